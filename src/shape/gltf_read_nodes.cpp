// The node hierarchy of a glTF file: one parent each, no cycles, transforms that are what they say.
#include "shape/gltf_read_nodes.h"

#include <cmath>
#include <map>
#include <set>

#include <fmt/format.h>
#include <glm/gtc/quaternion.hpp>

namespace standpoint::gltf {

namespace {

constexpr std::size_t most_node_levels = 1024;
constexpr std::size_t no_parent = static_cast<std::size_t>(-1);

struct Tree {
    std::vector<std::vector<std::uint32_t>> children;
    std::vector<std::size_t> parent; // or no_parent
};

Result<std::vector<std::uint32_t>> node_list(const Spot& owner, std::string_view key,
                                             std::size_t nodes) {
    STANDPOINT_TRY(list, list_member(owner, key));
    std::vector<std::uint32_t> out;
    for (std::size_t i = 0; i < length(list); ++i) {
        STANDPOINT_TRY(index, index_at(item(list, i), nodes, "nodes"));
        out.push_back(index);
    }
    return out;
}

Result<Tree> read_tree(const Spot& nodes) {
    const std::size_t count = length(nodes);
    Tree tree{{}, std::vector<std::size_t>(count, no_parent)};
    for (std::size_t i = 0; i < count; ++i) {
        STANDPOINT_TRY(node, object_item(nodes, i));
        STANDPOINT_TRY(children, node_list(node, "children", count));
        for (const std::uint32_t child : children) {
            if (tree.parent[child] != no_parent)
                return wrong(
                    member(node, "children"),
                    fmt::format("node {}, already a child of node {}", child, tree.parent[child]),
                    "one parent for each node");
            tree.parent[child] = i;
        }
        tree.children.push_back(std::move(children));
    }
    return tree;
}

// With one parent each, whatever cannot be reached from a root goes round in a cycle.
Status check_tree(const Spot& nodes, const Tree& tree) {
    const std::size_t count = tree.parent.size();
    std::vector<std::size_t> level(count, 0); // 0: not reached
    std::vector<std::uint32_t> open;
    for (std::uint32_t i = 0; i < count; ++i)
        if (tree.parent[i] == no_parent) {
            open.push_back(i);
            level[i] = 1;
        }
    while (!open.empty()) {
        const std::uint32_t node = open.back();
        open.pop_back();
        if (level[node] > most_node_levels)
            return wrong(item(nodes, node), fmt::format("a node {} levels deep", level[node]),
                         fmt::format("at most {}", most_node_levels));
        for (const std::uint32_t child : tree.children[node]) {
            level[child] = level[node] + 1;
            open.push_back(child);
        }
    }
    for (std::size_t i = 0; i < count; ++i)
        if (level[i] == 0)
            return wrong(item(nodes, i), "a cycle of children through this node",
                         "nodes that hang from a root");
    return Done{};
}

Result<std::vector<std::uint32_t>> scene_roots(const File& file, const Tree& tree) {
    STANDPOINT_TRY(scenes, list_member(file.root(), "scenes"));
    STANDPOINT_TRY(index, index_member(file.root(), "scene", scenes, "scenes"));
    std::vector<std::uint32_t> roots;
    if (!index) {
        for (std::uint32_t i = 0; i < tree.parent.size(); ++i)
            if (tree.parent[i] == no_parent) roots.push_back(i);
        return roots;
    }
    STANDPOINT_TRY(scene, object_item(scenes, *index));
    STANDPOINT_TRY(listed, node_list(scene, "nodes", tree.parent.size()));
    std::set<std::uint32_t> seen;
    for (const std::uint32_t node : listed) {
        if (tree.parent[node] != no_parent)
            return wrong(member(scene, "nodes"),
                         fmt::format("node {}, a child of node {}", node, tree.parent[node]),
                         "root nodes");
        if (!seen.insert(node).second)
            return wrong(member(scene, "nodes"), fmt::format("node {} twice", node),
                         "each node once");
    }
    return listed;
}

Result<glm::dmat4> matrix_of(const Spot& node) {
    STANDPOINT_TRY(matrix, numbers_member(node, "matrix", 16));
    STANDPOINT_TRY(move, numbers_member(node, "translation", 3));
    STANDPOINT_TRY(turn, numbers_member(node, "rotation", 4));
    STANDPOINT_TRY(scale, numbers_member(node, "scale", 3));
    glm::dmat4 out(1.0);
    if (!matrix.empty()) {
        if (!move.empty() || !turn.empty() || !scale.empty())
            return wrong(node, "a matrix beside translation, rotation or scale",
                         "one or the other");
        for (int i = 0; i < 16; ++i)
            out[i / 4][i % 4] = matrix[static_cast<std::size_t>(i)];
        if (out[0][3] != 0 || out[1][3] != 0 || out[2][3] != 0 || out[3][3] != 1)
            return wrong(member(node, "matrix"), "a fourth row other than 0 0 0 1",
                         "a matrix that moves, turns and scales");
        return out;
    }
    if (!turn.empty()) {
        const glm::dquat q(turn[3], turn[0], turn[1], turn[2]);
        // Exporters round their quaternions; this is far off what rounding does.
        const double size = std::sqrt(glm::dot(q, q));
        if (!(std::abs(size - 1) < 0.01))
            return wrong(member(node, "rotation"),
                         fmt::format("a quaternion of length {:.4g}", size), "length 1");
        out = glm::mat4_cast(q / size);
    }
    for (int i = 0; i < 3 && !scale.empty(); ++i)
        out[i] *= scale[static_cast<std::size_t>(i)];
    if (!move.empty()) out[3] = glm::dvec4(move[0], move[1], move[2], 1);
    return out;
}

// The first to want a name has it; the others get the first free of name-2, name-3, ...
void make_names_unique(std::vector<PlacedMesh>& placed) {
    std::set<std::string> wanted, used;
    for (const PlacedMesh& each : placed)
        wanted.insert(each.name);
    std::map<std::string, int> next;
    for (PlacedMesh& each : placed) {
        if (used.insert(each.name).second) continue;
        int& number = next.try_emplace(each.name, 2).first->second;
        std::string name;
        do
            name = fmt::format("{}-{}", each.name, number++);
        while (wanted.contains(name) || !used.insert(name).second);
        each.name = std::move(name);
    }
}

Result<std::string> name_of(const Spot& node, const Spot& mesh, std::uint32_t index) {
    for (const Spot& named : {node, mesh}) {
        STANDPOINT_TRY(name, text_member(named, "name"));
        if (name && !name->empty()) return printable(*name, 200);
    }
    return fmt::format("node-{}", index);
}

} // namespace

Result<std::vector<PlacedMesh>> placed_meshes(const File& file) {
    STANDPOINT_TRY(nodes, list_member(file.root(), "nodes"));
    STANDPOINT_TRY(meshes, list_member(file.root(), "meshes"));
    STANDPOINT_TRY(tree, read_tree(nodes));
    STANDPOINT_TRY_STATUS(check_tree(nodes, tree));
    STANDPOINT_TRY(roots, scene_roots(file, tree));
    struct Open {
        std::uint32_t node;
        glm::dmat4 outer;
    };
    std::vector<Open> open;
    for (auto root = roots.rbegin(); root != roots.rend(); ++root)
        open.push_back({*root, glm::dmat4(1.0)});
    std::vector<PlacedMesh> out;
    while (!open.empty()) {
        const Open at = open.back();
        open.pop_back();
        const Spot node = item(nodes, at.node);
        STANDPOINT_TRY(own, matrix_of(node));
        const glm::dmat4 matrix = at.outer * own;
        const double volume = glm::determinant(glm::dmat3(matrix));
        if (volume == 0) continue;
        if (!std::isfinite(volume) || !std::isfinite(glm::dot(matrix[3], matrix[3])))
            return wrong(node, "a transform beyond all numbers", "a finite one");
        STANDPOINT_TRY(mesh, index_member(node, "mesh", meshes, "meshes"));
        if (mesh) {
            STANDPOINT_TRY(mesh_spot, object_item(meshes, *mesh));
            STANDPOINT_TRY(name, name_of(node, mesh_spot, at.node));
            out.push_back({*mesh, std::move(name), matrix});
        }
        const auto& children = tree.children[at.node];
        for (auto child = children.rbegin(); child != children.rend(); ++child)
            open.push_back({*child, matrix});
    }
    make_names_unique(out);
    return out;
}

} // namespace standpoint::gltf
