// Meshes and pictures on the GPU, kept by the hash of their mesh. Coarser levels are made by a
// thread of the store's own and arrive some pictures later.
#pragma once

#include <condition_variable>
#include <deque>
#include <mutex>
#include <thread>
#include <unordered_map>

#include "shape/staging.h"
#include "window/gl_mesh_pack.h"
#include "window/gl_objects.h"

namespace standpoint {

struct GpuLevel {
    GlBuffer indices;
    std::vector<IndexSpan> spans; // one a look
    double error_mm = 0;
    std::size_t triangles = 0;
};

struct GpuMesh {
    GlVertexArray array;
    GlBuffer vertices;
    std::vector<RangeLook> looks;
    std::vector<unsigned> textures; // one a look, 0: none
    std::deque<GpuLevel> levels;    // the full one first; addresses stay
    GpuLevel sketch;                // no triangles: not worth it
    GpuLevel solids;                // no triangles until the details are there
    bool closed = false;
    bool has_opaque = false, has_glass = false;
    std::shared_ptr<const PackedMesh> packed; // until the details are made
    std::shared_ptr<const Mesh> source;       // keeps its address from being used again
    std::uint64_t last_used = 0;
    int uses = 0;
    bool details_asked = false;
};

class GpuMeshStore {
  public:
    GpuMeshStore();
    ~GpuMeshStore(); // waits for the mesh in work
    GpuMeshStore(const GpuMeshStore&) = delete;
    GpuMeshStore& operator=(const GpuMeshStore&) = delete;

    // Uploads it when it is new; null when there is no time for that before the next frame. What is
    // returned stays good until forget_unused().
    // Details are made when it is used again, or at once when they are wanted or it lets light
    // through.
    GpuMesh* mesh_of(const StagedPiece& piece, bool details_wanted = false);
    // Once a frame: what uploads may take until the next, seconds. One mesh is always taken.
    void start_frame(double seconds);
    std::size_t uploads() const { return uploads_; } // of meshes, ever
    // Once a picture: takes in what the thread has made, for a few milliseconds at most. Returns
    // true when something came.
    bool take_details();
    bool working() const; // details are still to come
    // Once a picture: lets go of what no picture has used for some 600 frames
    // in which any was drawn.
    void forget_unused();

    bool knows(const StagedPiece& piece) const { return meshes_.contains(key_of(piece)); }

    static std::uint64_t key_of(const StagedPiece& piece);

  private:
    struct Job {
        std::uint64_t key = 0;
        std::shared_ptr<const PackedMesh> mesh;
        MeshDetails details;
    };
    struct Picture {
        GlTexture texture;
        std::weak_ptr<const Image> image;
    };

    void work();
    unsigned texture_of(const RangeLook& look);
    GpuMesh uploaded(const StagedPiece& piece);
    void take(Job job);

    std::unordered_map<std::uint64_t, GpuMesh> meshes_;
    std::unordered_map<std::string, Picture> textures_; // by image and wrapping
    std::uint64_t frames_ = 0;                          // in which meshes were asked for
    bool new_frame_ = true;
    std::size_t uploads_ = 0, uploads_at_start_ = 0;
    double seconds_left_ = 0;

    mutable std::mutex mutex_;
    std::condition_variable wake_;
    std::deque<Job> waiting_, made_;
    std::size_t in_work_ = 0;
    bool ending_ = false;
    std::thread thread_;
};

} // namespace standpoint
