// Timings, as Google Benchmark prints them; ratios are taken within one process.
#include <fstream>
#include <sstream>

#include <benchmark/benchmark.h>

#include "check/run.h"
#include "desk/open.h"
#include "scene/json.h"

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

// The same number of sight lines as the check traces, sent to the bare index in one thread.
void raw_index(benchmark::State& state) {
    const OpenScene scene = demo();
    const Path& path = *scene.document.path;
    std::vector<Segment> segments;
    for (const StagedPiece& piece : scene.staging->pieces)
        for (const Station& station : stations_of(path))
            for (const Visitor& visitor : *scene.document.visitors)
                segments.push_back({eye_at(path, station, visitor, 1), piece.box.centre()});
    std::vector<std::uint8_t> out(segments.size());
    for (auto _ : state)
        scene.index->blocked(segments, out);
    state.SetItemsProcessed(static_cast<std::int64_t>(state.iterations() * segments.size()));
}
BENCHMARK(raw_index)->Unit(benchmark::kMillisecond);

// What history pays for a step: a copy of the document.
void snapshot_of_2000_pieces(benchmark::State& state) {
    Document document = empty_document();
    auto pieces = std::make_shared<std::vector<std::shared_ptr<const Piece>>>();
    for (int i = 0; i < 2000; ++i) {
        auto piece = std::make_shared<Piece>();
        piece->id = "crate-" + std::to_string(i);
        piece->parts.push_back({"", BoxForm{{300}, {300}, {300}}, {}, "", {}});
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
