// Tracing sight lines between eyes and the samples of one target.
#include "check/sight_trace.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include <glm/geometric.hpp>

#include "base/check.h"

namespace standpoint {

namespace {

constexpr std::size_t batch_lines = 8192;

struct Line { // one sight line of a batch
    std::uint32_t eye = 0, sample = 0;
    double weight = 0;
};

// Weight of a sample for an eye, 0 when it turns away.
double weight_of(const SurfaceSample& sample, const glm::dvec3& eye) {
    const glm::dvec3 to = eye - sample.point;
    const double r2 = glm::dot(to, to);
    if (r2 <= 0) return 0;
    double cosine = glm::dot(sample.normal, to) / std::sqrt(r2);
    if (sample.two_sided) cosine = std::abs(cosine);
    return cosine > 0 ? sample.area * cosine / r2 : 0;
}

// Goes through all sight lines that turn to their eye, sample by sample with the eyes innermost
// (the order in which an index answers fastest), in batches: take(lines, segments, blocked).
template <class Take>
void for_each_batch(const RayIndex& index, const SightTarget& target,
                    std::span<const glm::dvec3> eyes, const Take& take) {
    std::vector<Line> lines;
    std::vector<Segment> segments;
    std::vector<std::uint8_t> blocked;
    const auto flush = [&] {
        blocked.assign(segments.size(), 0);
        index.blocked(segments, blocked);
        take(lines, segments, blocked);
        lines.clear();
        segments.clear();
    };
    for (std::uint32_t s = 0; s < target.samples.size(); ++s) {
        const SurfaceSample& sample = target.samples[s];
        for (std::uint32_t e = 0; e < eyes.size(); ++e) {
            const double weight = weight_of(sample, eyes[e]);
            if (weight <= 0) continue;
            lines.push_back({e, s, weight});
            segments.push_back({eyes[e], sample.point});
        }
        if (segments.size() >= batch_lines) flush();
    }
    if (!segments.empty()) flush();
}

// True when the segment may pass through the box; never false when it does.
bool may_cross(const Segment& segment, const Box& box) {
    constexpr double slack_mm = 1;
    const glm::dvec3 along = segment.to - segment.from;
    double in = 0, out = 1;
    for (int axis = 0; axis < 3; ++axis) {
        const double low = box.low[axis] - slack_mm - segment.from[axis];
        const double high = box.high[axis] + slack_mm - segment.from[axis];
        if (along[axis] == 0) {
            if (low > 0 || high < 0) return false;
            continue;
        }
        const double a = low / along[axis], b = high / along[axis];
        in = std::max(in, std::min(a, b));
        out = std::min(out, std::max(a, b));
    }
    return in <= out;
}

struct Across { // one piece on a sight line and the share it lets through
    std::uint32_t piece = 0;
    double passes = 1;
};

// The weight of a sight line and all that hides it, told apart.
class LineTracer {
  public:
    LineTracer(const Staging& staging, const RayIndex& index, const SightTarget& target)
        : staging_(staging), index_(index), target_(target), dimming_(dimming_pieces(staging)) {}

    bool may_be_dimmed(const Segment& segment) const {
        return std::any_of(dimming_.begin(), dimming_.end(), [&](std::uint32_t piece) {
            return may_cross(segment, staging_.pieces[piece].box);
        });
    }

    // A line that nothing hides or dims.
    static void add_open(EyeSums& sums, std::size_t replicate, double weight) {
        sums.alone[replicate] += weight;
        sums.visible[replicate] += weight;
        sums.past_self += weight;
    }

    // A line that is blocked or may be dimmed.
    void add_crossed(EyeSums& sums, std::size_t replicate, double weight, const Segment& segment) {
        const double alone = weight * gather(segment);
        sums.alone[replicate] += alone;
        if (alone <= 0) return;
        sums.visible[replicate] += alone * passed_without(no_piece);
        sums.past_self += alone * passed_by(target_.piece);
        for (const Across& across : across_) {
            const double gain = alone * (passed_without(across.piece) - passed_without(no_piece));
            if (gain > 0) add_gain(sums, across.piece, gain);
        }
    }

  private:
    static constexpr std::uint32_t no_piece = ~std::uint32_t{0};

    // Fills across_ and returns the share that the patch itself lets through.
    double gather(const Segment& segment) {
        index_.crossings(segment, crossings_);
        across_.clear();
        double patch = 1;
        const glm::dvec3 along = glm::normalize(segment.to - segment.from);
        for (const Crossing& c : crossings_) {
            const double passes = static_cast<double>(c.lets_through);
            const bool own = c.piece == target_.piece;
            if (own && of_patch(staging_, target_, c.triangle, segment.from + along * c.distance)) {
                patch *= passes;
                continue;
            }
            const auto known = std::find_if(across_.begin(), across_.end(),
                                            [&](const Across& a) { return a.piece == c.piece; });
            if (known == across_.end())
                across_.push_back({c.piece, passes});
            else
                known->passes *= passes;
        }
        return patch;
    }

    double passed_without(std::uint32_t piece) const {
        double passed = 1;
        for (const Across& across : across_)
            if (across.piece != piece) passed *= across.passes;
        return passed;
    }

    double passed_by(std::uint32_t piece) const {
        for (const Across& across : across_)
            if (across.piece == piece) return across.passes;
        return 1;
    }

    static void add_gain(EyeSums& sums, std::uint32_t piece, double gain) {
        for (Blocker& blocker : sums.gained)
            if (blocker.piece == piece) {
                blocker.gain += gain;
                return;
            }
        sums.gained.push_back({piece, gain});
    }

    const Staging& staging_;
    const RayIndex& index_;
    const SightTarget& target_;
    std::vector<std::uint32_t> dimming_;
    std::vector<Crossing> crossings_;
    std::vector<Across> across_;
};

void count_line(EyeSums& sums, const Line& line, bool blocked) {
    sums.facing += line.weight;
    ++sums.lines;
    if (!blocked) ++sums.open;
}

} // namespace

std::vector<EyeSums> trace_eyes(const Staging& staging, const RayIndex& index,
                                const SightTarget& target, std::span<const glm::dvec3> eyes) {
    STANDPOINT_CHECK(target.replicates > 0);
    const std::size_t replicates = static_cast<std::size_t>(target.replicates);
    const std::size_t per_replicate = target.samples.size() / replicates;
    EyeSums empty;
    empty.alone.assign(replicates, 0);
    empty.visible.assign(replicates, 0);
    std::vector<EyeSums> out(eyes.size(), empty);
    LineTracer tracer(staging, index, target);
    for_each_batch(index, target, eyes,
                   [&](const std::vector<Line>& lines, const std::vector<Segment>& segments,
                       const std::vector<std::uint8_t>& blocked) {
                       for (std::size_t i = 0; i < lines.size(); ++i) {
                           EyeSums& sums = out[lines[i].eye];
                           const std::size_t replicate = lines[i].sample / per_replicate;
                           count_line(sums, lines[i], blocked[i] != 0);
                           if (blocked[i] == 0 && !tracer.may_be_dimmed(segments[i]))
                               tracer.add_open(sums, replicate, lines[i].weight);
                           else
                               tracer.add_crossed(sums, replicate, lines[i].weight, segments[i]);
                       }
                   });
    for (EyeSums& sums : out)
        std::sort(sums.gained.begin(), sums.gained.end(),
                  [](const Blocker& a, const Blocker& b) { return a.piece < b.piece; });
    return out;
}

std::vector<EyeSums> trace_open(const RayIndex& index, const SightTarget& target,
                                std::span<const glm::dvec3> eyes) {
    std::vector<EyeSums> out(eyes.size());
    for_each_batch(index, target, eyes,
                   [&](const std::vector<Line>& lines, const std::vector<Segment>&,
                       const std::vector<std::uint8_t>& blocked) {
                       for (std::size_t i = 0; i < lines.size(); ++i)
                           count_line(out[lines[i].eye], lines[i], blocked[i] != 0);
                   });
    return out;
}

std::vector<std::uint32_t> dimming_pieces(const Staging& staging) {
    std::vector<std::uint32_t> out;
    for (std::uint32_t i = 0; i < staging.pieces.size(); ++i) {
        const std::vector<Material>& materials = staging.pieces[i].mesh->materials;
        if (std::any_of(materials.begin(), materials.end(),
                        [](const Material& m) { return m.lets_through > 0 && m.lets_through < 1; }))
            out.push_back(i);
    }
    return out;
}

double share_of(const EyeSums& sums) {
    const double alone = std::accumulate(sums.alone.begin(), sums.alone.end(), 0.0);
    const double visible = std::accumulate(sums.visible.begin(), sums.visible.end(), 0.0);
    return alone > 0 ? std::min(1.0, visible / alone) : 0;
}

double standard_error_of(const EyeSums& sums) {
    const double alone = std::accumulate(sums.alone.begin(), sums.alone.end(), 0.0);
    const double share = share_of(sums);
    const std::size_t count = sums.alone.size();
    if (alone <= 0 || count < 2) return 0;
    // Of a ratio of means: the spread of visible - V * alone over the mean of alone.
    double squares = 0;
    for (std::size_t i = 0; i < count; ++i) {
        const double off = sums.visible[i] - share * sums.alone[i];
        squares += off * off;
    }
    const double n = static_cast<double>(count);
    return std::sqrt(squares / (n * (n - 1))) / (alone / n);
}

} // namespace standpoint
