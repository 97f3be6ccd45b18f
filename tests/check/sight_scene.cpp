// Small scenes of Low Water, built by hand, for the tests of sightlines.
#include "sight_scene.h"

#include <algorithm>
#include <numeric>
#include <utility>

#include "base/check.h"

namespace standpoint::support {

Visitor adult(double eye_height, double setback) {
    Visitor visitor;
    visitor.id = "adult";
    visitor.name = "an adult";
    visitor.eye_height = eye_height;
    visitor.crown = eye_height + 110;
    visitor.setback = setback;
    visitor.share = 1;
    return visitor;
}

SightScene::SightScene() : document_(empty_document()) {
    document_.sections = std::make_shared<const std::vector<Section>>();
    set_path({{-1500, -2000}, {1500, -2000}}, 1000);
    set_visitors({adult()});
    set_rules({});
}

std::uint32_t SightScene::add(const std::string& id, const Form& form, const glm::dvec3& origin,
                              double facing, double tilt, double scale, float lets_through,
                              PieceKind kind) {
    Mesh mesh = mesh_of(form).value();
    for (Material& material : mesh.materials)
        material.lets_through = lets_through;
    Piece piece;
    piece.id = id;
    piece.name = "the " + id;
    piece.kind = kind;
    StagedPiece staged;
    staged.id = id;
    staged.piece = std::make_shared<const Piece>(piece);
    staged.placement.frame = {rotation_of(facing, tilt, 0), origin};
    staged.placement.scale = scale;
    staged.mesh = std::make_shared<const Mesh>(std::move(mesh));
    pieces_.push_back(std::move(staged));
    return static_cast<std::uint32_t>(pieces_.size() - 1);
}

Target& SightScene::add_target(const std::string& id, const std::string& piece, Aim aim) {
    auto target = std::make_shared<Target>();
    target->id = id;
    target->piece = piece;
    target->aim = aim;
    targets_.push_back(target);
    return *target;
}

void SightScene::set_path(std::vector<PlanPoint> points, double width) {
    document_.path = std::make_shared<const Path>(Path{std::move(points), width});
}

void SightScene::set_visitors(std::vector<Visitor> visitors) {
    document_.visitors = std::make_shared<const std::vector<Visitor>>(std::move(visitors));
}

void SightScene::set_rules(RuleChoice rules) {
    document_.rules = std::make_shared<const RuleChoice>(std::move(rules));
}

void SightScene::remove(const std::string& id) {
    std::erase_if(pieces_, [&](const StagedPiece& piece) { return piece.id == id; });
}

void SightScene::move_all(const Frame& by) {
    for (StagedPiece& piece : pieces_)
        piece.placement.frame = compose(by, piece.placement.frame);
    Path path = *document_.path;
    for (PlanPoint& point : path.points) {
        const glm::dvec3 moved = to_outer(by, {point.x.mm, point.y.mm, 0});
        point = {moved.x, moved.y};
    }
    document_.path = std::make_shared<const Path>(path);
}

Staging SightScene::staging() const {
    Staging out;
    out.document = document_;
    out.pieces = pieces_;
    for (StagedPiece& piece : out.pieces)
        for (const glm::dvec3& position : piece.mesh->positions)
            piece.box = grown(piece.box, to_scene(piece, position));
    std::vector<std::shared_ptr<const Target>> targets;
    for (const std::shared_ptr<Target>& target : targets_)
        targets.push_back(std::make_shared<const Target>(*target));
    out.document.targets = std::make_shared<const decltype(targets)>(std::move(targets));
    return out;
}

SightOptions fixed_samples(int per_replicate, unsigned threads) {
    SightOptions options;
    options.per_replicate = options.most_per_replicate = per_replicate;
    options.threads = threads;
    return options;
}

SightTarget prepared(const Staging& staging, const SightOptions& options) {
    const Target& target = *staging.document.targets->front();
    const StagedPiece* piece = find_staged(staging, target.piece);
    STANDPOINT_CHECK(piece != nullptr);
    const auto rules = rules_in_force(*staging.document.rules).value();
    return prepare_target(staging, target,
                          static_cast<std::uint32_t>(piece - staging.pieces.data()), rules, options)
        .value();
}

Look look(const Staging& staging, const glm::dvec3& eye, const SightOptions& options) {
    const SightTarget target = prepared(staging, options);
    const auto index = make_ray_index(staging);
    const std::vector<EyeSums> sums = trace_eyes(staging, *index, target, {&eye, 1});
    Look out;
    out.share = share_of(sums[0]);
    out.standard_error = standard_error_of(sums[0]);
    out.alone = std::accumulate(sums[0].alone.begin(), sums[0].alone.end(), 0.0);
    out.facing = sums[0].facing;
    out.gained = sums[0].gained;
    return out;
}

Sightlines sightlines_of(const Staging& staging, const SightOptions& options) {
    const auto rules = rules_in_force(*staging.document.rules).value();
    const auto index = make_ray_index(staging);
    return check_sightlines(staging, *index, rules, options, {}).value();
}

CheckResults results_of(const Staging& staging, const Sightlines& sightlines) {
    CheckResults results;
    results.rules = rules_in_force(*staging.document.rules).value();
    results.sightlines = sightlines;
    results.findings = sightlines.findings;
    return results;
}

} // namespace standpoint::support
