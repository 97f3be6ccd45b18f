// Timings, as Google Benchmark prints them; ratios are taken within one process.
#include <chrono>

#include <benchmark/benchmark.h>

#include "check/run.h"
#include "desk/open.h"
#include "scene/json.h"
#include "shape/surface.h"

using namespace standpoint;

namespace {

const std::string demo_file = STANDPOINT_SOURCE_DIR "/assets-demo/low-water.scene.json";

OpenScene demo() {
    Result<OpenScene> scene = open_scene(demo_file, DiskFiles());
    STANDPOINT_CHECK(scene.ok());
    return std::move(scene).value();
}

CheckResults checked(const OpenScene& scene, unsigned threads) {
    CheckOptions options;
    options.threads = threads;
    options.sight.threads = threads;
    Result<CheckResults> results = run_checks(*scene.staging, options, {});
    STANDPOINT_CHECK(results.ok());
    return std::move(results).value();
}

void load(benchmark::State& state) {
    const std::string json = *DiskFiles().read(demo_file);
    for (auto _ : state)
        benchmark::DoNotOptimize(read_document(json, demo_file));
}
BENCHMARK(load)->Unit(benchmark::kMillisecond);

void stage_solids(benchmark::State& state) {
    const OpenScene scene = demo();
    std::size_t triangles = 0;
    for (auto _ : state) {
        Result<Staging> staging = stage(scene.document, demo_file, DiskFiles(), StagedFor::checks);
        STANDPOINT_CHECK(staging.ok());
    }
    for (const StagedPiece& piece : scene.staging->pieces)
        triangles += piece.mesh->triangles.size();
    state.counters["pieces"] = static_cast<double>(scene.staging->pieces.size());
    state.counters["triangles"] = static_cast<double>(triangles);
}
BENCHMARK(stage_solids)->Unit(benchmark::kMillisecond);

void build_index(benchmark::State& state) {
    const OpenScene scene = demo();
    for (auto _ : state)
        benchmark::DoNotOptimize(make_ray_index(*scene.staging));
}
BENCHMARK(build_index)->Unit(benchmark::kMillisecond);

void full_check(benchmark::State& state) {
    const OpenScene scene = demo();
    std::uint64_t rays = 0;
    for (auto _ : state)
        rays = checked(scene, static_cast<unsigned>(state.range(0))).sightlines.rays;
    state.counters["rays"] = static_cast<double>(rays);
}
BENCHMARK(full_check)->Arg(1)->Arg(2)->Unit(benchmark::kMillisecond)->UseRealTime();

void walkway_check(benchmark::State& state) {
    const OpenScene scene = demo();
    const std::vector<Rule> rules = *rules_in_force(*scene.document.rules);
    for (auto _ : state)
        benchmark::DoNotOptimize(check_walkway(*scene.staging, rules, 2, {}));
}
BENCHMARK(walkway_check)->Unit(benchmark::kMillisecond)->UseRealTime();

// Sight lines of the kind the check traces: samples of every target to see, from every eye.
std::vector<Segment> sight_segments(const Staging& staging) {
    const Document& document = staging.document;
    std::vector<Segment> segments;
    for (const auto& target : *document.targets) {
        const StagedPiece* piece = find_staged(staging, target->piece);
        if (piece == nullptr || target->aim != Aim::see) continue;
        const auto surface = patch_surface(*piece, target->patch);
        STANDPOINT_CHECK(surface.ok());
        const SightOptions options;
        const auto samples = sample_surface(*surface, options.replicates, options.per_replicate, 1);
        for (const Visitor& visitor : *document.visitors)
            for (const SurfaceSample& sample : samples)
                for (const Station& station : stations_of(*document.path)) // eyes innermost
                    segments.push_back({sample.point, eye_at(*document.path, station, visitor, 1)});
    }
    return segments;
}

void raw_index(benchmark::State& state) {
    const OpenScene scene = demo();
    const std::vector<Segment> segments = sight_segments(*scene.staging);
    std::vector<std::uint8_t> out(segments.size());
    for (auto _ : state)
        scene.index->blocked(segments, out);
    state.SetItemsProcessed(static_cast<std::int64_t>(state.iterations() * segments.size()));
}
BENCHMARK(raw_index)->Unit(benchmark::kMillisecond);

// Rays a second of the whole sightline check over those of the bare index, one thread each,
// turn about in one process. "share_of_raw" is the figure to quote.
void sightlines_against_raw(benchmark::State& state) {
    using Clock = std::chrono::steady_clock;
    const OpenScene scene = demo();
    const std::vector<Rule> rules = *rules_in_force(*scene.document.rules);
    const std::vector<Segment> segments = sight_segments(*scene.staging);
    std::vector<std::uint8_t> out(segments.size());
    SightOptions options;
    options.threads = 1;
    std::chrono::duration<double> raw{}, check{};
    double raw_rays = 0, check_rays = 0;
    for (auto _ : state) {
        const Clock::time_point start = Clock::now();
        scene.index->blocked(segments, out);
        const Clock::time_point middle = Clock::now();
        const auto found = check_sightlines(*scene.staging, *scene.index, rules, options, {});
        check += Clock::now() - middle;
        raw += middle - start;
        raw_rays += static_cast<double>(segments.size());
        STANDPOINT_CHECK(found.ok());
        check_rays += static_cast<double>(found->rays);
    }
    state.counters["raw_rays_a_second"] = raw_rays / raw.count();
    state.counters["check_rays_a_second"] = check_rays / check.count();
    state.counters["share_of_raw"] = check_rays / check.count() / (raw_rays / raw.count());
}
BENCHMARK(sightlines_against_raw)->Unit(benchmark::kMillisecond);

// What history pays for a step: a copy of the document.
void snapshot_of_2000_pieces(benchmark::State& state) {
    Document document = empty_document();
    auto pieces = std::make_shared<std::vector<std::shared_ptr<const Piece>>>();
    for (int i = 0; i < 2000; ++i) {
        auto piece = std::make_shared<Piece>();
        piece->id = "crate-" + std::to_string(i);
        piece->parts.push_back({"", BoxForm{{300}, {300}, {300}}, {}, "", {}, {}});
        pieces->push_back(piece);
    }
    document.pieces = pieces;
    for (auto _ : state) {
        Document snapshot = document;
        // A moved piece costs a new list of pointers as well.
        auto list = std::make_shared<std::vector<std::shared_ptr<const Piece>>>(*document.pieces);
        (*list)[1000] = std::make_shared<const Piece>(*(*list)[1000]);
        snapshot.pieces = list;
        benchmark::DoNotOptimize(snapshot);
    }
}
BENCHMARK(snapshot_of_2000_pieces)->Unit(benchmark::kMicrosecond);

} // namespace

BENCHMARK_MAIN();
