// Tracing sight lines between eyes and the samples of one target.
#include "check/sight_trace.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numeric>

#include <glm/geometric.hpp>

namespace standpoint {

namespace {

constexpr std::size_t batch_lines = 8192;

struct Line { // one sight line of a batch
    std::uint32_t eye = 0, replicate = 0;
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

struct Stretch { // of every replicate: samples from `from` to just before `to`
    int from = 0, to = 0;
};

// Goes through all sight lines that turn to their eye, sample by sample with the eyes innermost
// (the order in which an index answers fastest), in batches: take(lines, segments, blocked).
template <class Take>
void for_each_batch(const RayIndex& index, const SightTarget& target, Stretch part,
                    std::span<const glm::dvec3> eyes, std::span<const std::uint32_t> which,
                    const Take& take) {
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
    const auto replicates = static_cast<std::uint32_t>(target.options.replicates);
    const auto stride = static_cast<std::size_t>(target.options.most_per_replicate);
    for (std::uint32_t r = 0; r < replicates; ++r)
        for (int i = part.from; i < part.to; ++i) {
            const SurfaceSample& sample = target.samples[r * stride + static_cast<std::size_t>(i)];
            for (const std::uint32_t e : which) {
                const double weight = weight_of(sample, eyes[e]);
                if (weight <= 0) continue;
                lines.push_back({e, r, weight});
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

std::vector<std::uint32_t> all_of(std::span<const glm::dvec3> eyes) {
    std::vector<std::uint32_t> which(eyes.size());
    std::iota(which.begin(), which.end(), std::uint32_t{0});
    return which;
}

// Adds one part of the samples to the sums of some eyes.
void trace_part(const RayIndex& index, const SightTarget& target, Stretch part,
                std::span<const glm::dvec3> eyes, std::span<const std::uint32_t> which,
                LineTracer& tracer, std::vector<EyeSums>& out) {
    for_each_batch(index, target, part, eyes, which,
                   [&](const std::vector<Line>& lines, const std::vector<Segment>& segments,
                       const std::vector<std::uint8_t>& blocked) {
                       for (std::size_t i = 0; i < lines.size(); ++i) {
                           EyeSums& sums = out[lines[i].eye];
                           count_line(sums, lines[i], blocked[i] != 0);
                           if (blocked[i] == 0 && !tracer.may_be_dimmed(segments[i]))
                               tracer.add_open(sums, lines[i].replicate, lines[i].weight);
                           else
                               tracer.add_crossed(sums, lines[i].replicate, lines[i].weight,
                                                  segments[i]);
                       }
                   });
    for (const std::uint32_t e : which)
        out[e].per_replicate = part.to;
}

// No more samples are needed: all, nothing or the same of every sample, or a small enough error.
bool is_settled(const EyeSums& sums, const SightOptions& options) {
    constexpr double rounding = 1e-9;
    const double error = error_of(sums);
    if (error <= rounding) return true;
    return sums.per_replicate >= options.least_between && error <= options.largest_error;
}

// Samples carry the area they stand for when all are used; with fewer, each stands for more.
void scale(EyeSums& sums, const SightTarget& target) {
    const double times = static_cast<double>(target.options.most_per_replicate) /
                         static_cast<double>(sums.per_replicate);
    sums.facing *= times;
    sums.past_self *= times;
    for (double& alone : sums.alone)
        alone *= times;
    for (double& visible : sums.visible)
        visible *= times;
    for (Blocker& blocker : sums.gained)
        blocker.gain *= times;
}

} // namespace

std::vector<EyeSums> trace_eyes(const Staging& staging, const RayIndex& index,
                                const SightTarget& target, std::span<const glm::dvec3> eyes) {
    const SightOptions& options = target.options;
    EyeSums empty;
    empty.alone.assign(static_cast<std::size_t>(options.replicates), 0);
    empty.visible = empty.alone;
    std::vector<EyeSums> out(eyes.size(), empty);
    LineTracer tracer(staging, index, target);
    std::vector<std::uint32_t> which = all_of(eyes);
    Stretch part{0, options.per_replicate};
    while (!which.empty()) {
        trace_part(index, target, part, eyes, which, tracer, out);
        if (part.to == options.most_per_replicate) break;
        std::erase_if(which, [&](std::uint32_t e) { return is_settled(out[e], options); });
        part = {part.to, std::min(2 * part.to, options.most_per_replicate)};
    }
    for (EyeSums& sums : out) {
        scale(sums, target);
        std::sort(sums.gained.begin(), sums.gained.end(),
                  [](const Blocker& a, const Blocker& b) { return a.piece < b.piece; });
    }
    return out;
}

std::vector<EyeSums> trace_open(const RayIndex& index, const SightTarget& target,
                                std::span<const glm::dvec3> eyes) {
    std::vector<EyeSums> out(eyes.size());
    for_each_batch(index, target, {0, target.options.per_replicate}, eyes, all_of(eyes),
                   [&](const std::vector<Line>& lines, const std::vector<Segment>&,
                       const std::vector<std::uint8_t>& blocked) {
                       for (std::size_t i = 0; i < lines.size(); ++i)
                           count_line(out[lines[i].eye], lines[i], blocked[i] != 0);
                   });
    for (EyeSums& sums : out) {
        sums.per_replicate = target.options.per_replicate;
        scale(sums, target);
    }
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

double error_of(const EyeSums& sums) {
    // Two-sided 95 % points of Student's t, 1 to 15 degrees of freedom (any statistics table).
    constexpr double t95[] = {12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306,
                              2.262,  2.228, 2.201, 2.179, 2.160, 2.145, 2.131};
    const std::size_t count = sums.alone.size();
    const double t = count < 2 ? 0 : count - 2 < std::size(t95) ? t95[count - 2] : 2.0;
    return t * standard_error_of(sums);
}

} // namespace standpoint
