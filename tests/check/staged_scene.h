// Staged scenes put together by hand: meshes at their places, without files or forms.
#pragma once

#include <cmath>
#include <memory>
#include <numbers>
#include <string>
#include <vector>

#include "check/rules.h"
#include "shape/staging.h"

namespace standpoint::support {

// A prism over a plan outline (counter-clockwise, convex), scene mm.
inline Mesh prism(const std::vector<glm::dvec2>& outline, double low, double high) {
    Mesh mesh;
    const auto n = static_cast<std::uint32_t>(outline.size());
    for (const double z : {low, high})
        for (const glm::dvec2& p : outline)
            mesh.positions.emplace_back(p, z);
    for (std::uint32_t i = 0; i < n; ++i) {
        const std::uint32_t j = (i + 1) % n;
        mesh.triangles.emplace_back(i, j, n + j);
        mesh.triangles.emplace_back(i, n + j, n + i);
        if (i == 0 || j == 0) continue;
        mesh.triangles.emplace_back(0U, j, i);
        mesh.triangles.emplace_back(n, n + i, n + j);
    }
    mesh.part_of.assign(mesh.triangles.size(), 0);
    mesh.parts.resize(1);
    mesh.materials.resize(1);
    return mesh;
}

inline Mesh box_mesh(const glm::dvec3& low, const glm::dvec3& high) {
    return prism({{low.x, low.y}, {high.x, low.y}, {high.x, high.y}, {low.x, high.y}}, low.z,
                 high.z);
}

// As many facets as the primitive forms have, corners on the circle, one of them at +X.
inline Mesh round_mesh(const glm::dvec2& centre, double diameter, double low, double high,
                       int facets = 64) {
    std::vector<glm::dvec2> outline;
    for (int i = 0; i < facets; ++i) {
        const double angle = 2 * std::numbers::pi * i / facets;
        outline.push_back(centre + glm::dvec2(std::cos(angle), std::sin(angle)) * (diameter / 2));
    }
    return prism(outline, low, high);
}

struct StagedScene {
    Staging staging;

    explicit StagedScene(const std::vector<glm::dvec2>& path, double width) {
        Document& document = staging.document;
        document.settings = std::make_shared<Settings>();
        Hall hall;
        hall.ceiling = Length(3600);
        document.hall = std::make_shared<Hall>(hall);
        document.sections = std::make_shared<std::vector<Section>>();
        document.join_lines = std::make_shared<std::vector<JoinLine>>();
        document.reference_points = std::make_shared<std::vector<ReferencePoint>>();
        document.visitors = std::make_shared<std::vector<Visitor>>();
        document.rules = std::make_shared<RuleChoice>();
        document.targets = std::make_shared<std::vector<std::shared_ptr<const Target>>>();
        document.pieces = std::make_shared<std::vector<std::shared_ptr<const Piece>>>();
        Path drawn;
        drawn.width = Length(width);
        for (const glm::dvec2& p : path)
            drawn.points.push_back({Length(p.x), Length(p.y)});
        document.path = std::make_shared<Path>(drawn);
    }

    StagedPiece& add(const std::string& id, Mesh mesh, StagedKind kind = StagedKind::piece,
                     Support support = Support::none, const std::string& host = "") {
        StagedPiece staged;
        staged.staged = kind;
        staged.id = id;
        if (kind == StagedKind::piece) {
            Piece piece;
            piece.id = id;
            piece.support = support;
            piece.host = host;
            auto kept = std::make_shared<Piece>(piece);
            staged.piece = kept;
            auto pieces = *staging.document.pieces;
            pieces.push_back(kept);
            staging.document.pieces =
                std::make_shared<std::vector<std::shared_ptr<const Piece>>>(pieces);
        }
        staged.box = bounds(mesh);
        staged.mesh = std::make_shared<Mesh>(std::move(mesh));
        staging.pieces.push_back(std::move(staged));
        return staging.pieces.back();
    }

    void section(const std::string& id, double x, double y, double width, double depth,
                 double height) {
        Section made;
        made.id = id;
        made.corner = {Length(x), Length(y)};
        made.width = Length(width);
        made.depth = Length(depth);
        made.height = Length(height);
        auto sections = *staging.document.sections;
        sections.push_back(made);
        staging.document.sections = std::make_shared<std::vector<Section>>(sections);
        add(id, box_mesh({x, y, 0}, {x + width, y + depth, height}), StagedKind::section);
    }

    // Everything turned about the origin and moved; heights stay.
    void turn(double radians, const glm::dvec2& offset) {
        const double c = std::cos(radians), s = std::sin(radians);
        const auto turned = [&](double x, double y) {
            return glm::dvec2(c * x - s * y, s * x + c * y) + offset;
        };
        for (StagedPiece& piece : staging.pieces) {
            Mesh mesh = *piece.mesh;
            for (glm::dvec3& p : mesh.positions)
                p = glm::dvec3(turned(p.x, p.y), p.z);
            piece.box = bounds(mesh);
            piece.mesh = std::make_shared<Mesh>(std::move(mesh));
        }
        Path path = *staging.document.path;
        for (PlanPoint& point : path.points) {
            const glm::dvec2 p = turned(point.x.mm, point.y.mm);
            point = {Length(p.x), Length(p.y)};
        }
        staging.document.path = std::make_shared<Path>(path);
    }
};

inline std::vector<Rule> rules_of(const std::vector<std::string>& use,
                                  const std::vector<OwnRule>& own = {}) {
    return rules_in_force({use, own}).value();
}

} // namespace standpoint::support
