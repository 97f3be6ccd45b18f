// Rows of the sight strip: sights folded over visitors and lanes into one value a station.
#include "desk/strip.h"

#include <algorithm>
#include <cmath>
#include <iterator>

#include "desk/sight_limits.h"

namespace standpoint {

double goodness(const StripRow& row, const StripCell& cell) {
    return row.aim == Aim::see ? cell.value : 1 - cell.value;
}

namespace {

struct Fold { // sights of one station put together
    double seen = 0, doubtful = 0, all = 0;
    double unseen[std::size(sight_reason_names)] = {}; // weight by reason
    double standard_error = 0;

    void add(const Sight& sight, Aim aim, double limit, double weight) {
        all += weight;
        if (sight.reason == SightReason::seen)
            seen += weight;
        else
            unseen[static_cast<int>(sight.reason)] += weight;
        if (is_doubtful(sight, aim, limit)) doubtful += weight;
        standard_error = std::max(standard_error, sight.standard_error);
    }

    void finish(StripCell& cell) const {
        cell.standard_error = standard_error;
        const auto most = std::max_element(std::begin(unseen), std::end(unseen));
        cell.reason =
            *most > 0 ? static_cast<SightReason>(most - std::begin(unseen)) : SightReason::seen;
        if (all <= 0) return;
        // Sums of many weights: all of them is all, whatever the rounding.
        cell.value = *most > 0 ? seen / all : 1;
        cell.doubtful = std::min(1.0, doubtful / all);
    }
};

StripCell cell_of(const std::vector<Station>& stations, std::size_t i) {
    StripCell cell;
    cell.station = stations[i].distance;
    cell.from = i == 0 ? cell.station : (stations[i - 1].distance + cell.station) / 2;
    cell.to =
        i + 1 == stations.size() ? cell.station : (cell.station + stations[i + 1].distance) / 2;
    return cell;
}

// Cells of the sights of some visitors of one target, each with its weight.
void fold(const CheckOutcome& outcome, const Target& target,
          const std::vector<std::pair<const TargetSights*, double>>& by_visitor, StripRow& row) {
    const std::vector<Station>& stations = outcome.results->sightlines.stations;
    const double limit = seen_limit(outcome, target);
    double length = 0;
    for (std::size_t i = 0; i < stations.size(); ++i) {
        Fold all;
        for (const auto& [sights, weight] : by_visitor)
            for (std::size_t lane = 0; lane < lane_count; ++lane)
                all.add(sights->sights[i * lane_count + lane], target.aim, limit, weight);
        StripCell cell = cell_of(stations, i);
        all.finish(cell);
        length += stations[i].length;
        row.share_of_path += cell.value * stations[i].length;
        row.doubtful += cell.doubtful * stations[i].length;
        row.cells.push_back(cell);
    }
    if (length <= 0) return;
    row.share_of_path /= length;
    row.doubtful /= length;
}

StripRow named_row(const Target& target) {
    StripRow row;
    row.target = target.id;
    row.name = spoken(target.name, target.id);
    row.piece = target.piece;
    row.aim = target.aim;
    return row;
}

StripRow row_of(const CheckOutcome& outcome, const Target& target) {
    StripRow row = named_row(target);
    if (const HideExposure* exposure = exposure_of(outcome, target.id))
        row.exposed_mm = exposure->length_exposed;
    return row;
}

} // namespace

std::vector<StripRow> strip_rows(const CheckOutcome& outcome,
                                 const std::vector<std::string>& unfolded) {
    std::vector<StripRow> rows;
    if (!outcome.has_sights()) return rows;
    const auto shares = audience_shares(outcome.document);
    for (const auto& target : *outcome.document.targets) {
        std::vector<std::pair<const TargetSights*, double>> by_visitor;
        for (const Visitor& visitor : *outcome.document.visitors)
            if (const TargetSights* sights = sights_of(outcome, target->id, visitor.id))
                by_visitor.emplace_back(sights, shares.at(visitor.id));
        StripRow folded = row_of(outcome, *target);
        folded.checked = !by_visitor.empty();
        if (folded.checked) fold(outcome, *target, by_visitor, folded);
        rows.push_back(std::move(folded));
        if (std::find(unfolded.begin(), unfolded.end(), target->id) == unfolded.end()) continue;
        for (const auto& [sights, weight] : by_visitor) {
            StripRow row = row_of(outcome, *target);
            const Visitor* visitor = find_visitor(outcome.document, sights->visitor);
            row.visitor = sights->visitor;
            row.visitor_name = spoken(visitor->name, visitor->id);
            fold(outcome, *target, {{sights, 1.0}}, row);
            rows.push_back(std::move(row));
        }
    }
    return rows;
}

std::vector<StripRow> waiting_rows(const Document& document) {
    std::vector<StripRow> rows;
    for (const auto& target : *document.targets) {
        rows.push_back(named_row(*target));
        rows.back().known = false;
    }
    return rows;
}

std::optional<std::size_t> cell_at(const StripRow& row, double distance) {
    if (row.cells.empty()) return std::nullopt;
    // The first cell that ends beyond the distance; a border belongs to the later one.
    const auto found =
        std::upper_bound(row.cells.begin(), row.cells.end(), distance,
                         [](double at, const StripCell& cell) { return at < cell.to; });
    return found == row.cells.end() ? row.cells.size() - 1
                                    : static_cast<std::size_t>(found - row.cells.begin());
}

namespace {

const Target* target_looked_at(const Document& document, const std::string& look_at) {
    if (const Target* target = find_target(document, look_at)) return target;
    for (const auto& target : *document.targets)
        if (target->piece == look_at) return target.get();
    return nullptr;
}

} // namespace

std::vector<std::string> blockers_at(const CheckOutcome& outcome, const std::string& look_at,
                                     const std::string& visitor, double distance, int lane) {
    std::vector<std::string> ids;
    if (!outcome.has_sights() || lane < 0 || lane >= lane_count) return ids;
    const Document& document = outcome.document;
    const std::vector<Station>& stations = outcome.results->sightlines.stations;
    const Target* target = target_looked_at(document, look_at);
    if (target == nullptr || document.visitors->empty() || stations.empty()) return ids;
    const TargetSights* sights =
        sights_of(outcome, target->id, visitor.empty() ? document.visitors->front().id : visitor);
    if (sights == nullptr) return ids;
    const std::size_t station = station_near(stations, distance);
    const Sight& sight = sights->sights[station * lane_count + static_cast<std::size_t>(lane)];
    for (const Blocker& blocker : sight.blockers)
        ids.push_back(outcome.staging->pieces[blocker.piece].id);
    return ids;
}

} // namespace standpoint
