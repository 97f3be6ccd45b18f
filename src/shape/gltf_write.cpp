// glTF 2.0 out: nodes, the JSON that ties them to the binary chunk, and the .glb container.
#include "shape/gltf_write.h"

#include <map>
#include <optional>

#include <fmt/format.h>
#include <glm/gtc/quaternion.hpp>
#include <nlohmann/json.hpp>

#include "shape/gltf_write_parts.h"

namespace standpoint {

namespace {

using namespace gltf;
using Json = nlohmann::ordered_json;

Json list_of(const std::vector<float>& values) {
    Json out = Json::array();
    for (const float value : values)
        out.push_back(static_cast<double>(value));
    return out;
}

Json json_of(const ViewOut& view) {
    Json out{{"buffer", 0}, {"byteOffset", view.offset}, {"byteLength", view.size}};
    if (view.use != ViewUse::none) out["target"] = static_cast<int>(view.use);
    return out;
}

Json json_of(const AccessorOut& accessor) {
    Json out{{"bufferView", accessor.view},
             {"componentType", accessor.component},
             {"count", accessor.count},
             {"type", accessor.type}};
    if (!accessor.low.empty()) {
        out["min"] = list_of(accessor.low);
        out["max"] = list_of(accessor.high);
    }
    return out;
}

Json json_of(const MaterialOut& material) {
    Json shading{{"baseColorFactor", list_of({material.colour.begin(), material.colour.end()})}};
    if (material.texture >= 0) shading["baseColorTexture"] = {{"index", material.texture}};
    shading["metallicFactor"] = 0.0;
    shading["roughnessFactor"] = 1.0;
    Json out{{"pbrMetallicRoughness", std::move(shading)}};
    if (material.alpha_mode != "OPAQUE") out["alphaMode"] = material.alpha_mode;
    if (material.alpha_mode == "MASK") out["alphaCutoff"] = static_cast<double>(material.cutoff);
    if (material.two_sided) out["doubleSided"] = true;
    return out;
}

Json json_of(const PrimitiveOut& primitive) {
    Json attributes{{"POSITION", primitive.position}};
    if (primitive.normal >= 0) attributes["NORMAL"] = primitive.normal;
    if (primitive.uv >= 0) attributes["TEXCOORD_0"] = primitive.uv;
    return {{"attributes", std::move(attributes)},
            {"indices", primitive.indices},
            {"material", primitive.material}};
}

// (x, y, z) of the scene, Z up in mm, is (x, z, -y) in metres.
Json node_of(const StagedPiece& piece, std::optional<std::uint32_t> mesh) {
    Json out{{"name", piece.id}};
    if (mesh) out["mesh"] = *mesh;
    const glm::dvec3& origin = piece.placement.frame.origin;
    const glm::dvec3 move(origin.x / 1000, origin.z / 1000, -origin.y / 1000);
    if (move != glm::dvec3(0.0)) out["translation"] = {move.x, move.y, move.z};
    const glm::dquat turn = glm::normalize(glm::quat_cast(piece.placement.frame.rotation));
    if (turn.x != 0 || turn.y != 0 || turn.z != 0)
        out["rotation"] = {turn.x, turn.z, -turn.y, turn.w};
    const double scale = piece.placement.scale;
    if (scale != 1) out["scale"] = {scale, scale, scale};
    return out;
}

class SceneOut {
  public:
    Binary binary;

    Status add(const StagedPiece& piece) {
        STANDPOINT_TRY(mesh, mesh_index(piece));
        nodes_.push_back(node_of(piece, mesh));
        return Done{};
    }

    std::string json() const {
        Json out{{"asset", {{"version", "2.0"}, {"generator", "Standpoint"}}}, {"scene", 0}};
        Json scene = Json::object();
        for (std::size_t i = 0; i < nodes_.size(); ++i)
            scene["nodes"].push_back(i);
        out["scenes"].push_back(std::move(scene));
        put(out, "nodes", nodes_);
        put(out, "meshes", meshes_);
        put_materials(out);
        for (const AccessorOut& each : binary.accessors)
            out["accessors"].push_back(json_of(each));
        for (const ViewOut& each : binary.views)
            out["bufferViews"].push_back(json_of(each));
        if (!binary.bytes.empty()) out["buffers"].push_back({{"byteLength", binary.bytes.size()}});
        return out.dump();
    }

  private:
    std::vector<Json> nodes_, meshes_;
    MaterialsOut materials_;
    // Pieces of one hash have one mesh; what is written of it is kept beside, as hashes can agree.
    std::map<std::uint64_t,
             std::vector<std::pair<std::shared_ptr<const Mesh>, std::optional<std::uint32_t>>>>
        known_;

    static void put(Json& out, const char* key, const std::vector<Json>& values) {
        if (!values.empty()) out[key] = values;
    }

    void put_materials(Json& out) const {
        for (const MaterialOut& each : materials_.materials)
            out["materials"].push_back(json_of(each));
        for (const TextureOut& each : materials_.textures)
            out["textures"].push_back({{"sampler", each.sampler}, {"source", each.image}});
        for (const std::uint32_t view : materials_.image_views)
            out["images"].push_back({{"bufferView", view}, {"mimeType", "image/png"}});
        for (const auto& wrap : materials_.samplers)
            out["samplers"].push_back({{"magFilter", 9729},
                                       {"minFilter", 9987},
                                       {"wrapS", wrap[0] ? 10497 : 33071},
                                       {"wrapT", wrap[1] ? 10497 : 33071}});
    }

    static bool alike(const Material& a, const Material& b) {
        return a.colour == b.colour && a.image == b.image && a.repeat_u == b.repeat_u &&
               a.repeat_v == b.repeat_v && a.alpha_cutoff == b.alpha_cutoff &&
               a.lets_through == b.lets_through && a.gloss == b.gloss && a.two_sided == b.two_sided;
    }

    static bool alike(const Mesh& a, const Mesh& b) {
        return &a == &b ||
               (a.positions == b.positions && a.normals == b.normals && a.uvs == b.uvs &&
                a.triangles == b.triangles && a.part_of == b.part_of &&
                std::equal(a.parts.begin(), a.parts.end(), b.parts.begin(), b.parts.end(),
                           [](const auto& p, const auto& q) { return p.material == q.material; }) &&
                std::equal(a.materials.begin(), a.materials.end(), b.materials.begin(),
                           b.materials.end(),
                           [](const auto& p, const auto& q) { return alike(p, q); }));
    }

    // Nothing for a mesh without triangles.
    Result<std::optional<std::uint32_t>> mesh_index(const StagedPiece& piece) {
        auto& candidates = known_[piece.mesh_hash];
        for (const auto& [mesh, index] : candidates)
            if (alike(*mesh, *piece.mesh)) return index;
        STANDPOINT_TRY(primitives, write_mesh(*piece.mesh, materials_, binary));
        std::optional<std::uint32_t> index;
        if (!primitives.empty()) {
            index = static_cast<std::uint32_t>(meshes_.size());
            Json mesh{{"name", piece.id}};
            for (const PrimitiveOut& each : primitives)
                mesh["primitives"].push_back(json_of(each));
            meshes_.push_back(std::move(mesh));
        }
        candidates.emplace_back(piece.mesh, index);
        return index;
    }
};

std::string words(std::initializer_list<std::uint64_t> values) {
    std::string out;
    for (const std::uint64_t value : values)
        for (int shift = 0; shift < 32; shift += 8)
            out += static_cast<char>(value >> shift & 0xff);
    return out;
}

} // namespace

Status write_glb(const Staging& staging, Sink& sink) {
    SceneOut scene;
    for (const StagedPiece& piece : staging.pieces)
        STANDPOINT_TRY_STATUS(scene.add(piece));
    std::string json = scene.json();
    json.resize((json.size() + 3) / 4 * 4, ' ');
    const std::string& binary = scene.binary.bytes;
    const std::uint64_t total = 20 + json.size() + (binary.empty() ? 0 : 8 + binary.size());
    if (total > 0xffffffffu)
        return input_error("", fmt::format("found a scene of {} bytes as .glb, expected at most {}",
                                           total, 0xffffffffu));
    STANDPOINT_TRY_STATUS(
        sink.write(words({0x46546c67, 2, total, json.size(), 0x4e4f534a}) + json));
    if (binary.empty()) return Done{};
    STANDPOINT_TRY_STATUS(sink.write(words({binary.size(), 0x004e4942})));
    return sink.write(binary);
}

} // namespace standpoint
