// Uploads meshes and textures, and has their details made beside the drawing.
#include "window/gl_mesh_store.h"

#include <algorithm>
#include <chrono>
#include <utility>

#include <epoxy/gl.h>
#include <sys/resource.h>

#include "window/gl_image.h"

namespace standpoint {

namespace {

constexpr std::uint64_t kept_frames = 600; // a mesh stays so long after it was last used

void upload(unsigned target, const GlBuffer& buffer, const void* data, std::size_t bytes) {
    glBindBuffer(target, buffer.name());
    glBufferData(target, static_cast<GLsizeiptr>(bytes), data, GL_STATIC_DRAW);
}

GpuLevel uploaded_level(const PackedLevel& level) {
    GpuLevel out;
    out.indices = GlBuffer::make();
    upload(GL_ELEMENT_ARRAY_BUFFER, out.indices, level.indices.data(),
           level.indices.size() * sizeof(std::uint32_t));
    out.spans = level.spans;
    out.error_mm = level.error_mm;
    out.triangles = level.indices.size() / 3;
    return out;
}

void describe_vertices() {
    const int stride = sizeof(PackedVertex);
    const auto attribute = [&](unsigned index, int count, unsigned type, bool scaled,
                               std::size_t offset) {
        glEnableVertexAttribArray(index);
        glVertexAttribPointer(index, count, type, scaled, stride,
                              reinterpret_cast<const void*>(offset));
    };
    attribute(0, 3, GL_FLOAT, false, offsetof(PackedVertex, place));
    attribute(1, 4, GL_INT_2_10_10_10_REV, true, offsetof(PackedVertex, normal));
    attribute(2, 4, GL_UNSIGNED_BYTE, true, offsetof(PackedVertex, colour));
    attribute(3, 2, GL_FLOAT, false, offsetof(PackedVertex, uv));
    for (unsigned index = 4; index < 8; ++index) { // an instance's
        glEnableVertexAttribArray(index);
        glVertexAttribDivisor(index, 1);
    }
}

GlTexture uploaded_image(const RangeLook& look) {
    GlTexture texture = GlTexture::make();
    glBindTexture(GL_TEXTURE_2D, texture.name());
    glPixelStorei(GL_UNPACK_ALIGNMENT, 4);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_SRGB8_ALPHA8, look.image->width, look.image->height, 0,
                 GL_RGBA, GL_UNSIGNED_BYTE, look.image->rgba.data());
    int level = 0;
    for (Image half = halved(*look.image); half.width > 0; half = halved(half))
        glTexImage2D(GL_TEXTURE_2D, ++level, GL_SRGB8_ALPHA8, half.width, half.height, 0, GL_RGBA,
                     GL_UNSIGNED_BYTE, half.rgba.data());
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR_MIPMAP_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, look.repeat_u ? GL_REPEAT : GL_CLAMP_TO_EDGE);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, look.repeat_v ? GL_REPEAT : GL_CLAMP_TO_EDGE);
    return texture;
}

} // namespace

GpuMeshStore::GpuMeshStore() : thread_([this] { work(); }) {}

GpuMeshStore::~GpuMeshStore() {
    {
        const std::lock_guard lock(mutex_);
        ending_ = true;
    }
    wake_.notify_all();
    thread_.join();
}

std::uint64_t GpuMeshStore::key_of(const StagedPiece& piece) {
    if (piece.mesh_hash != 0) return piece.mesh_hash;
    return reinterpret_cast<std::uintptr_t>(piece.mesh.get());
}

void GpuMeshStore::work() {
    setpriority(PRIO_PROCESS, 0, 10); // of this thread: frames come first
    std::unique_lock lock(mutex_);
    for (;;) {
        wake_.wait(lock, [this] { return ending_ || !waiting_.empty(); });
        if (ending_) return;
        Job job = std::move(waiting_.front());
        waiting_.pop_front();
        in_work_ = 1;
        lock.unlock();
        job.details = details_of(*job.mesh);
        lock.lock();
        in_work_ = 0;
        made_.push_back(std::move(job));
    }
}

bool GpuMeshStore::working() const {
    const std::lock_guard lock(mutex_);
    return in_work_ > 0 || !waiting_.empty() || !made_.empty();
}

unsigned GpuMeshStore::texture_of(const RangeLook& look) {
    if (!look.image || look.image->rgba.empty()) return 0;
    const std::string key = std::to_string(reinterpret_cast<std::uintptr_t>(look.image.get())) +
                            (look.repeat_u ? "r" : "c") + (look.repeat_v ? "r" : "c");
    Picture& picture = textures_[key];
    if (!picture.texture || picture.image.lock() != look.image)
        picture = {uploaded_image(look), look.image};
    return picture.texture.name();
}

GpuMesh GpuMeshStore::uploaded(const StagedPiece& piece) {
    GpuMesh out;
    auto small = std::make_shared<PackedMesh>(packed(*piece.mesh));
    out.array = GlVertexArray::make();
    out.vertices = GlBuffer::make();
    glBindVertexArray(out.array.name());
    upload(GL_ARRAY_BUFFER, out.vertices, small->vertices.data(),
           small->vertices.size() * sizeof(PackedVertex));
    describe_vertices();
    out.levels.push_back(uploaded_level(small->full));
    out.sketch = uploaded_level(sketch_of(*small));
    out.looks = small->looks;
    for (std::size_t i = 0; i < out.looks.size(); ++i) {
        out.textures.push_back(texture_of(out.looks[i]));
        if (small->full.spans[i].count == 0) continue;
        (out.looks[i].lets_through > 0 ? out.has_glass : out.has_opaque) = true;
    }
    out.packed = std::move(small);
    out.source = piece.mesh;
    return out;
}

void GpuMeshStore::start_frame(double seconds) {
    seconds_left_ = seconds;
    new_frame_ = true;
    uploads_at_start_ = uploads_;
}

GpuMesh* GpuMeshStore::mesh_of(const StagedPiece& piece, bool details_wanted) {
    if (std::exchange(new_frame_, false)) ++frames_;
    const std::uint64_t key = key_of(piece);
    auto found = meshes_.find(key);
    if (found == meshes_.end()) {
        if (seconds_left_ <= 0 && uploads_ > uploads_at_start_) return nullptr;
        const auto start = std::chrono::steady_clock::now();
        found = meshes_.emplace(key, uploaded(piece)).first;
        ++uploads_;
        seconds_left_ -=
            std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    }
    GpuMesh& mesh = found->second;
    // Not at first sight: a form that is being pulled about has a new mesh every frame.
    if (mesh.last_used != frames_) ++mesh.uses;
    if (!mesh.details_asked && (mesh.uses > 1 || details_wanted || mesh.has_glass)) {
        mesh.details_asked = true;
        const std::lock_guard lock(mutex_);
        waiting_.push_back({key, mesh.packed, {}});
        wake_.notify_one();
    }
    mesh.last_used = frames_;
    return &mesh;
}

void GpuMeshStore::take(Job job) {
    const auto found = meshes_.find(job.key);
    if (found == meshes_.end() || found->second.packed != job.mesh) return;
    GpuMesh& mesh = found->second;
    glBindVertexArray(0); // an element buffer would be noted in an array that is bound
    for (const PackedLevel& level : job.details.coarser)
        mesh.levels.push_back(uploaded_level(level));
    if (!job.details.solids.empty()) {
        PackedLevel solids;
        solids.indices = std::move(job.details.solids);
        mesh.solids = uploaded_level(solids);
    }
    mesh.closed = job.details.closed;
    mesh.packed = nullptr;
}

bool GpuMeshStore::take_details() {
    const auto start = std::chrono::steady_clock::now();
    bool any = false;
    while (std::chrono::steady_clock::now() - start < std::chrono::milliseconds(3)) {
        Job job;
        {
            const std::lock_guard lock(mutex_);
            if (made_.empty()) break;
            job = std::move(made_.front());
            made_.pop_front();
        }
        take(std::move(job));
        any = true;
    }
    return any;
}

void GpuMeshStore::forget_unused() {
    if (frames_ % 64 != 0) return;
    std::erase_if(meshes_, [this](const auto& held) {
        return held.second.last_used + kept_frames < frames_;
    });
    std::erase_if(textures_, [](const auto& held) { return held.second.image.expired(); });
}

} // namespace standpoint
