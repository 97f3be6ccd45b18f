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
    std::vector<GpuLevel> levels;   // the full one first
    GpuLevel solids;                // no triangles until the details are there
    bool closed = false;
    bool has_opaque = false, has_glass = false;
    std::shared_ptr<const PackedMesh> packed; // until the details are made
    std::shared_ptr<const Mesh> source;       // keeps its address from being used again
    std::uint64_t last_used = 0;
    int uses = 0;
};

class MeshStore {
  public:
    MeshStore();
    ~MeshStore(); // waits for the mesh in work
    MeshStore(const MeshStore&) = delete;
    MeshStore& operator=(const MeshStore&) = delete;

    // Uploads it when it is new. The reference stays good until forget_unused().
    GpuMesh& mesh_of(const StagedPiece& piece);
    // Once a picture: takes in what the thread has made, for a few milliseconds at most. Returns
    // true when something came.
    bool take_details();
    bool working() const; // details are still to come
    // Once a picture: lets go of what no picture has used for long.
    void forget_unused();

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
    std::uint64_t pictures_ = 0;

    mutable std::mutex mutex_;
    std::condition_variable wake_;
    std::deque<Job> waiting_, made_;
    std::size_t in_work_ = 0;
    bool ending_ = false;
    std::thread thread_;
};

} // namespace standpoint
