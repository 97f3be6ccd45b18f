// How pieces stand: overlapping, floating, outside the base, across a join line.
#include "check/standing.h"

#include <algorithm>
#include <cmath>
#include <unordered_map>
#include <utility>

#include <fmt/format.h>

#include "check/standing_reach.h"
#include "check/standing_support.h"
#include "check/walk_findings.h"

namespace standpoint {

namespace {

constexpr double slack_mm = 1e-6; // what rounding makes of a measure that is at its limit

std::string name_of(const StagedPiece& piece) {
    return piece.piece == nullptr ? piece.id : spoken(piece.piece->name, piece.id);
}

std::string name_of(const Staging& staging, const std::string& id) {
    const StagedPiece* piece = find_staged(staging, id);
    return piece == nullptr ? "the " + id : name_of(*piece);
}

bool within(const Rule& rule, double measured) {
    return passes(rule, measured - slack_mm);
}

StandingScene scene_of(const Staging& staging, unsigned threads) {
    StandingScene scene{staging, {}, {}};
    scene.meshes.resize(staging.pieces.size());
    parallel_for(staging.pieces.size(), threads,
                 [&](std::size_t i) { scene.meshes[i] = placed_mesh(staging.pieces[i]); });
    std::unordered_map<std::string, std::string> section_of_id;
    const std::vector<std::string> sections = sections_of(staging.document);
    for (std::size_t i = 0; i < sections.size(); ++i)
        section_of_id[(*staging.document.pieces)[i]->id] = sections[i];
    for (const StagedPiece& piece : staging.pieces)
        scene.sections.push_back(piece.piece ? section_of_id[piece.id] : std::string());
    return scene;
}

struct Pair {
    std::size_t a = 0, b = 0;
};

bool takes_room(const StagedPiece& piece) {
    return piece.staged != StagedKind::hall && !is_kind(piece, PieceKind::effect);
}

// Pairs whose boxes meet, by a sweep along x; in the order of the staging.
std::vector<Pair> near_pairs(const StandingScene& scene) {
    std::vector<std::size_t> order;
    for (std::size_t i = 0; i < scene.meshes.size(); ++i)
        if (takes_room(scene.staging.pieces[i]) && !scene.meshes[i].box.empty()) order.push_back(i);
    const auto low = [&](std::size_t i) { return scene.meshes[i].box.low.x; };
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t i, std::size_t j) { return low(i) < low(j); });
    std::vector<Pair> pairs;
    for (auto i = order.begin(); i != order.end(); ++i)
        for (auto j = i + 1; j != order.end() && low(*j) <= scene.meshes[*i].box.high.x; ++j)
            if (meet(scene.meshes[*i].box, scene.meshes[*j].box))
                pairs.push_back({std::min(*i, *j), std::max(*i, *j)});
    std::sort(pairs.begin(), pairs.end(),
              [](const Pair& p, const Pair& q) { return p.a != q.a ? p.a < q.a : p.b < q.b; });
    return pairs;
}

// Ground gives way to what is set into it, as deep as it lies.
bool gives_way(const StandingScene& scene, const Pair& pair, double depth) {
    const StagedPiece &a = scene.staging.pieces[pair.a], &b = scene.staging.pieces[pair.b];
    if (a.piece == nullptr || b.piece == nullptr) return false;
    if (scene.sections[pair.a] != scene.sections[pair.b]) return false;
    double thickness = 0;
    for (const std::size_t i : {pair.a, pair.b})
        if (is_kind(scene.staging.pieces[i], PieceKind::ground))
            thickness = std::max(thickness, scene.meshes[i].box.size().z);
    return thickness > 0 && depth <= thickness + slack_mm;
}

bool carries(const StagedPiece& host, const StagedPiece& piece) {
    return piece.piece != nullptr && piece.piece->support != Support::none &&
           piece.piece->host == host.id;
}

// The one that is easier to move: what is carried before its carrier, a piece before what stands
// for good, the smaller before the larger.
bool second_to_blame(const StandingScene& scene, const Pair& pair) {
    const StagedPiece &a = scene.staging.pieces[pair.a], &b = scene.staging.pieces[pair.b];
    if (carries(a, b) || carries(b, a)) return carries(a, b);
    if ((a.piece == nullptr) != (b.piece == nullptr)) return a.piece == nullptr;
    const glm::dvec3 p = scene.meshes[pair.a].box.size(), q = scene.meshes[pair.b].box.size();
    return q.x * q.y * q.z < p.x * p.y * p.z;
}

void report_overlap(const StandingScene& scene, const std::vector<Rule>& rules, const Pair& pair,
                    const Overlap& overlap, std::vector<Finding>& findings) {
    if (gives_way(scene, pair, overlap.depth) && !overlap.inside) return;
    const bool second = second_to_blame(scene, pair);
    const StagedPiece& mover = scene.staging.pieces[second ? pair.b : pair.a];
    const StagedPiece& other = scene.staging.pieces[second ? pair.a : pair.b];
    for (const Rule& rule : rules_on(rules, "overlap-depth")) {
        if (within(rule, overlap.depth)) continue;
        const std::string depth = at_least_text(scene.staging.document, overlap.depth);
        Finding finding = finding_on(
            rule, carries(other, mover) ? Grade::warn : Grade::fail, "overlap", mover.id,
            overlap.depth,
            overlap.inside
                ? fmt::format("{} and {} lie one inside the other: {} to be clear", name_of(mover),
                              name_of(other), depth)
                : fmt::format("{} runs {} into {}, more than {}", name_of(mover), depth,
                              name_of(other), length_text(scene.staging.document, rule.limit)));
        finding.pieces = {mover.id, other.id};
        finding.place = overlap.place;
        findings.push_back(std::move(finding));
    }
}

void find_overlaps(const StandingScene& scene, const std::vector<Rule>& rules, unsigned threads,
                   const Progress& progress, Standing& out) {
    const std::vector<Pair> pairs = near_pairs(scene);
    std::vector<Meeting> meetings(pairs.size());
    parallel_for(pairs.size(), threads, [&](std::size_t i) {
        if (!progress.stop())
            meetings[i] = meeting(scene.meshes[pairs[i].a], scene.meshes[pairs[i].b]);
    });
    for (std::size_t i = 0; i < pairs.size(); ++i) {
        if (!meetings[i].meets) continue;
        out.overlaps.push_back({scene.staging.pieces[pairs[i].a].id,
                                scene.staging.pieces[pairs[i].b].id, meetings[i].depth,
                                meetings[i].inside, meetings[i].place});
        report_overlap(scene, rules, pairs[i], out.overlaps.back(), out.findings);
    }
}

void report_gap(const Staging& staging, const std::vector<Rule>& rules, const Gap& gap, bool hangs,
                std::vector<Finding>& findings) {
    const std::string who = name_of(staging, gap.piece), on = name_of(staging, gap.carrier);
    const auto add = [&](const Rule& rule, Grade grade, double measured, std::string message) {
        Finding finding =
            finding_on(rule, grade, "floating", gap.piece, measured, std::move(message));
        finding.pieces = {gap.piece};
        if (gap.carrier != "floor") finding.pieces.push_back(gap.carrier);
        finding.place = gap.place;
        findings.push_back(std::move(finding));
    };
    for (const Rule& rule : rules_on(rules, "floating-gap"))
        if (!within(rule, gap.gap))
            add(rule, Grade::fail, gap.gap,
                fmt::format("{} floats {} {} {}", who, at_least_text(staging.document, gap.gap),
                            hangs ? "clear of" : "above", on));
    for (const Rule& rule : rules_on(rules, "overlap-depth"))
        if (!within(rule, -gap.gap))
            add(rule, Grade::warn, -gap.gap,
                fmt::format("{} is sunk {} into {}", who, at_least_text(staging.document, -gap.gap),
                            on));
}

void find_gaps(const StandingScene& scene, const std::vector<Rule>& rules, unsigned threads,
               const Progress& progress, Standing& out) {
    const double contact = strictest(rules, "floating-gap").limit;
    std::vector<std::optional<Gap>> gaps(scene.meshes.size());
    parallel_for(gaps.size(), threads, [&](std::size_t i) {
        if (!progress.stop()) gaps[i] = gap_under(scene, i, contact);
    });
    for (std::size_t i = 0; i < gaps.size(); ++i) {
        if (!gaps[i]) continue;
        const bool hangs = scene.staging.pieces[i].piece->support == Support::hangs_from;
        report_gap(scene.staging, rules, *gaps[i], hangs, out.findings);
        out.gaps.push_back(std::move(*gaps[i]));
    }
}

std::string section_name(const Document& document, const std::string& id) {
    const Section* section = find_section(document, id);
    return section == nullptr ? id : spoken(section->name, id);
}

void report_reach(const Staging& staging, const Rule& rule, const Reach& reach, bool join,
                  std::vector<Finding>& findings) {
    if (within(rule, reach.amount)) return;
    const std::string who = name_of(staging, reach.piece);
    const std::string amount = at_least_text(staging.document, reach.amount);
    Finding finding = finding_on(
        rule, Grade::warn, join ? "across-join" : "outside-base", reach.piece, reach.amount,
        join ? fmt::format(
                   "{} reaches {} over the join from section {} into {}: it must be set after the "
                   "sections are joined",
                   who, amount, section_name(staging.document, reach.section_a),
                   section_name(staging.document, reach.section_b))
             : fmt::format("{} reaches {} over the edge of the base", who, amount));
    finding.pieces = {reach.piece};
    finding.place = reach.place;
    findings.push_back(std::move(finding));
}

void find_reaches(const StandingScene& scene, const std::vector<Rule>& rules, Standing& out) {
    for (std::size_t i = 0; i < scene.meshes.size(); ++i) {
        const StagedPiece& piece = scene.staging.pieces[i];
        if (scene.sections[i].empty() || is_kind(piece, PieceKind::effect)) continue;
        if (const auto edge = reach_outside(scene, i)) out.outside_base.push_back(*edge);
        for (Reach& join : reaches_across(scene, i))
            out.across_join.push_back(std::move(join));
    }
    for (const Rule& rule : rules_on(rules, "outside-base")) {
        for (const Reach& reach : out.outside_base)
            report_reach(scene.staging, rule, reach, false, out.findings);
        for (const Reach& reach : out.across_join)
            report_reach(scene.staging, rule, reach, true, out.findings);
    }
}

} // namespace

Result<Standing> check_standing(const Staging& staging, const std::vector<Rule>& rules,
                                unsigned threads, const Progress& progress) {
    Standing out;
    const StandingScene scene = scene_of(staging, threads);
    find_overlaps(scene, rules, threads, progress, out);
    find_gaps(scene, rules, threads, progress, out);
    if (progress.stop())
        return Error{ErrorCode::cancelled, "stopped while checking how pieces stand", ""};
    find_reaches(scene, rules, out);
    sort_findings(out.findings);
    return out;
}

} // namespace standpoint
