// Work beside the window: what it delivers, in which order, and that it stops when told to.
#include <doctest/doctest.h>

#include <condition_variable>
#include <filesystem>
#include <mutex>

#include "checked_landing.h"
#include "desk/background.h"
#include "desk/make_files.h"
#include "support/temporary_folder.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

// A door that a thread waits at until it is opened, and that tells when somebody waits.
class Gate {
  public:
    void wait() {
        std::unique_lock<std::mutex> lock(mutex_);
        ++waiting_;
        changed_.notify_all();
        changed_.wait(lock, [this] { return open_; });
    }
    void open() {
        const std::lock_guard<std::mutex> lock(mutex_);
        open_ = true;
        changed_.notify_all();
    }
    void await_somebody() {
        std::unique_lock<std::mutex> lock(mutex_);
        changed_.wait(lock, [this] { return waiting_ > 0; });
    }

  private:
    std::mutex mutex_;
    std::condition_variable changed_;
    bool open_ = false;
    int waiting_ = 0;
};

// Files that keep a reader waiting.
class GatedFiles : public FileAccess {
  public:
    explicit GatedFiles(Gate& gate) : gate_(gate) {}
    Result<std::string> read(const std::string& path) const override {
        gate_.wait();
        return io_error(path, "not there");
    }

  private:
    Gate& gate_;
};

BackgroundCheckOptions few(unsigned threads = 1) {
    BackgroundCheckOptions options;
    options.threads = threads;
    options.rough = options.full = few_samples();
    options.rough.per_replicate = options.rough.least_between = 4;
    options.rough.most_per_replicate = 4;
    return options;
}

Document with_model(const std::string& file) {
    Piece piece = box_piece("boat", 0, 0, 0, 1, 1, 1);
    ModelForm model;
    model.file = file;
    piece.parts[0].form = model;
    return with_piece(bare_scene(), piece);
}

constexpr const char* scene_file = "low-water.scene.json";

} // namespace

TEST_CASE("the steps hand over the walkway, a rough answer and the full one") {
    const std::vector<CheckOutcome> outcomes = outcomes_of(checked_landing(), 42);
    REQUIRE(outcomes.size() == 3);
    const CheckLevel levels[] = {CheckLevel::walkway, CheckLevel::rough, CheckLevel::full};
    for (std::size_t i = 0; i < 3; ++i) {
        const CheckOutcome& outcome = outcomes[i];
        CHECK(outcome.level == levels[i]);
        CHECK(outcome.rough() == (i < 2));
        CHECK(outcome.has_sights() == (i > 0));
        CHECK(outcome.revision == 42);
        CHECK(!outcome.error);
        REQUIRE(outcome.results);
        CHECK(outcome.staging == outcomes[0].staging);
        CHECK(outcome.results->walkway.width == outcomes[2].results->walkway.width);
        CHECK((outcome.largest_standard_error > 0) == (i > 0));
    }
    CHECK(outcomes[0].results->standing.gaps.empty());
    CHECK(outcomes[1].results->standing.gaps.size() == 5);
    CHECK(outcomes[1].results->sightlines.rays < outcomes[2].results->sightlines.rays);
}

TEST_CASE("the full answer is the one the command line gives") {
    const CheckOutcome full = outcome_of(checked_landing());
    CheckOptions options;
    options.sight = few_samples();
    options.threads = 1;
    const Result<CheckResults> plain = run_checks(*full.staging, options, {});
    REQUIRE(plain.ok());
    CHECK(results_json(*full.staging, *plain) == results_json(*full.staging, *full.results));
}

TEST_CASE("the samples of a first answer are fewer") {
    const SightOptions rough = rough_sight_options(), full;
    CHECK(rough.replicates >= 2);
    CHECK(rough.replicates * rough.most_per_replicate < full.replicates * full.least_between);
}

TEST_CASE("the worker delivers the full answer of what it was asked last") {
    BackgroundCheck check(std::make_shared<const MemoryFiles>(), few());
    CHECK(check.poll() == nullptr);
    CHECK(!check.progress().running);
    check.settle();
    for (std::uint64_t revision = 1; revision <= 4; ++revision)
        check.start(checked_landing(), scene_file, revision);
    CHECK(check.progress().revision == 4);
    check.settle();
    const auto outcome = check.poll();
    REQUIRE(outcome);
    CHECK(outcome->revision == 4);
    CHECK(outcome->level == CheckLevel::full);
    CHECK(check.poll() == outcome);
    CHECK(!check.progress().running);
    CHECK(check.progress().share == doctest::Approx(1));
    CHECK(!check.progress().what.empty());
}

TEST_CASE("any number of threads gives the same answer") {
    std::string json;
    for (const unsigned threads : {1u, 3u}) {
        BackgroundCheck check(std::make_shared<const MemoryFiles>(), few(threads));
        check.start(checked_landing(), scene_file, 1);
        check.settle();
        const auto outcome = check.poll();
        REQUIRE(outcome);
        const std::string now = results_json(*outcome->staging, *outcome->results);
        if (!json.empty()) CHECK(now == json);
        json = now;
    }
}

TEST_CASE("an older answer stays, marked by its revision, until a newer one is there") {
    Gate gate;
    BackgroundCheck check(std::make_shared<const GatedFiles>(gate), few());
    check.start(checked_landing(), scene_file, 1); // reads no file
    check.settle();
    const auto old = check.poll();
    REQUIRE(old);
    check.start(with_model("boat.glb"), scene_file, 2);
    gate.await_somebody();
    CHECK(check.progress().running);
    CHECK(check.progress().revision == 2);
    CHECK(check.poll() == old);
    CHECK(check.poll()->revision == 1);
    gate.open();
    check.settle();
    REQUIRE(check.poll() != old);
    CHECK(check.poll()->revision == 2);
    CHECK(check.poll()->error);
    CHECK(!check.poll()->results);
}

TEST_CASE("what is asked while it runs is done next, and what was running gives way") {
    Gate gate;
    BackgroundCheck check(std::make_shared<const GatedFiles>(gate), few());
    check.start(with_model("boat.glb"), scene_file, 1);
    gate.await_somebody();
    check.start(bare_scene(), scene_file, 2);
    gate.open();
    check.settle();
    REQUIRE(check.poll());
    CHECK(check.poll()->revision == 2);
    CHECK(!check.poll()->error);
}

TEST_CASE("cancelled work delivers nothing, and the worker can be asked again") {
    Gate gate;
    BackgroundCheck check(std::make_shared<const GatedFiles>(gate), few());
    check.start(with_model("boat.glb"), scene_file, 1);
    gate.await_somebody();
    check.cancel();
    gate.open();
    check.settle();
    if (check.poll()) CHECK(check.poll()->error); // the error it had come to already
    check.start(bare_scene(), scene_file, 2);
    check.settle();
    REQUIRE(check.poll());
    CHECK(check.poll()->revision == 2);
}

TEST_CASE("once cancelled, the steps hand over nothing") {
    CheckRun run;
    run.document = checked_landing();
    run.rough = run.full = few_samples();
    run.threads = 1;
    for (int allowed = 0; allowed < 3; ++allowed) { // stops after so many outcomes
        int handed = 0;
        Progress progress;
        progress.cancelled = [&] { return handed >= allowed; };
        run_check_steps(run, MemoryFiles(), progress, [&](CheckOutcome) { ++handed; });
        CHECK(handed == allowed);
    }
}

TEST_CASE("the end waits for work under way") {
    Gate gate;
    const auto files = std::make_shared<const GatedFiles>(gate);
    {
        BackgroundCheck check(files, few());
        check.start(with_model("boat.glb"), scene_file, 1);
        gate.await_somebody();
        check.start(checked_landing(), scene_file, 2);
        CHECK(files.use_count() == 2);
        gate.open();
    }
    CHECK(files.use_count() == 1); // the worker has let go of them
}

TEST_CASE("a second run shares the meshes of the first") {
    BackgroundCheck check(std::make_shared<const MemoryFiles>(), few());
    check.start(checked_landing(), scene_file, 1);
    check.settle();
    const auto first = check.poll();
    check.start(with_width(checked_landing(), 1900), scene_file, 2);
    check.settle();
    const auto second = check.poll();
    REQUIRE(first);
    REQUIRE(second);
    REQUIRE(first != second);
    for (const char* id : {"sign", "fence", "bollard"})
        CHECK(find_staged(*first->staging, id)->mesh == find_staged(*second->staging, id)->mesh);
}

TEST_CASE("errors of a check say the file and the place in it") {
    Document document = checked_landing();
    Target wrong = see_target("wrong", "sign");
    wrong.patch.parts = {"no such part"};
    const std::vector<CheckOutcome> outcomes = outcomes_of(with_target(document, wrong));
    REQUIRE(outcomes.back().error);
    CHECK(outcomes.back().error->where.find("low-water.scene.json (/targets/2/patch)") == 0);
    CHECK(!outcomes.back().results);
    CHECK(outcomes.back().staging);
    CHECK(outcomes.front().results); // the walkway is told all the same
}

TEST_CASE("the machine keeps a thread for the window") {
    CHECK(background_threads(3) == 3);
    CHECK(background_threads(0) >= 1);
    CHECK(background_threads(0) <= thread_count(0));
    if (thread_count(0) > 1) CHECK(background_threads(0) == thread_count(0) - 1);
}

TEST_CASE("parts of a job report their share of the whole") {
    std::vector<double> shares;
    Progress whole;
    whole.report = [&](double share, std::string_view) { shares.push_back(share); };
    whole.cancelled = [] { return true; };
    const Progress part = part_of(whole, 0.2, 0.6);
    for (const double share : {0.0, 0.5, 1.0, 2.0, -1.0})
        part.report(share, "x");
    REQUIRE(shares.size() == 5);
    for (const auto& [i, expected] : {std::pair{0, 0.2}, {1, 0.4}, {2, 0.6}, {3, 0.6}, {4, 0.2}})
        CHECK(shares[static_cast<std::size_t>(i)] == doctest::Approx(expected));
    CHECK(part.stop());
    CHECK(!part_of({}, 0, 1).report);
}

// -- jobs --

TEST_CASE("a job tells its progress and what it made") {
    Gate reported, go_on;
    BackgroundJob job("making", [&](const Progress& progress) -> Result<std::vector<std::string>> {
        progress.report(0.5, "half");
        progress.report(0.3, "back"); // never falls
        go_on.wait();
        return std::vector<std::string>{"a", "b"};
    });
    go_on.await_somebody();
    const JobState half = job.state();
    CHECK(half.name == "making");
    CHECK(!half.finished);
    CHECK(half.share == 0.5);
    CHECK(half.what == "half");
    go_on.open();
    const JobState done = job.settle();
    CHECK(done.finished);
    CHECK(done.share == 1);
    CHECK(done.files == std::vector<std::string>{"a", "b"});
    CHECK(!done.error);
    CHECK(job.settle().finished); // again, at once
}

TEST_CASE("a job that fails or is cancelled says so") {
    BackgroundJob failing("x", [](const Progress&) -> Result<std::vector<std::string>> {
        return io_error("disk", "full");
    });
    const JobState failed = failing.settle();
    REQUIRE(failed.error);
    CHECK(failed.error->message == "full");
    Gate gate;
    BackgroundJob stopped("y", [&](const Progress& progress) -> Result<std::vector<std::string>> {
        gate.wait();
        if (progress.stop()) return Error{ErrorCode::cancelled, "stopped", ""};
        return std::vector<std::string>{};
    });
    gate.await_somebody();
    stopped.cancel();
    gate.open();
    const JobState state = stopped.settle();
    REQUIRE(state.error);
    CHECK(state.error->code == ErrorCode::cancelled);
}

TEST_CASE("sheets are made from the document in force, whole or not at all") {
    const TemporaryFolder folder;
    const Document document = checked_landing();
    const std::string scene = folder.file("low-water.scene.json");
    BackgroundJob job("sheets", sheets_job(document, scene, folder.file("sheets"), 1));
    const JobState done = job.settle();
    REQUIRE_MESSAGE(!done.error, (done.error ? one_line(*done.error) : ""));
    REQUIRE(done.files.size() == 2);
    CHECK(read_plain(done.files[0]).find("bollard") != std::string::npos);
    CHECK(read_plain(done.files[1]).starts_with("%PDF"));
    BackgroundJob nowhere("sheets", sheets_job(document, scene, folder.file("a/b"), 1));
    CHECK(nowhere.settle().error);
    BackgroundJob wrong("sheets", sheets_job(with_model("none.glb"), scene, folder.path(), 1));
    CHECK(wrong.settle().error);
    CHECK(folder.names() == std::set<std::string>{"sheets"});
}

TEST_CASE("sheets of a check that has been run are those of the document, byte for byte") {
    const TemporaryFolder folder;
    const Document document = checked_landing();
    const auto made_by = [&](const JobWork& work) {
        const auto files = work(Progress());
        REQUIRE(files.ok());
        REQUIRE(files->size() == 2);
        return std::pair(read_plain((*files)[0]), read_plain((*files)[1]));
    };
    const auto afresh =
        made_by(sheets_job(document, folder.file("a.json"), folder.file("afresh"), 1));
    const auto checked = std::make_shared<const CheckOutcome>(
        outcomes_of(document, 1, SightOptions{}).back());
    const auto from_check = made_by(sheets_job(checked, folder.file("checked")));
    CHECK((afresh.first == from_check.first));
    CHECK((afresh.second == from_check.second));
}

TEST_CASE("making sheets that is cancelled leaves no folder behind") {
    const TemporaryFolder folder;
    const JobWork work =
        sheets_job(checked_landing(), folder.file("a.json"), folder.file("sheets"), 1);
    Progress progress;
    progress.cancelled = [] { return true; };
    const auto made = work(progress);
    REQUIRE(!made.ok());
    CHECK(made.error().code == ErrorCode::cancelled);
    CHECK(folder.names().empty());
}

TEST_CASE("a picture is made of what a visitor sees") {
    const TemporaryFolder folder;
    PictureOptions options;
    options.width = 32;
    options.height = 18;
    options.samples = options.light_samples = 1;
    ViewRequest request;
    request.look_at = "sign";
    BackgroundJob job("picture", picture_job(checked_landing(), folder.file("a.json"), request,
                                             options, folder.file("a.png")));
    const JobState done = job.settle();
    REQUIRE(!done.error);
    CHECK(read_plain(folder.file("a.png")).starts_with("\x89PNG"));
    request.look_at = "nobody";
    BackgroundJob wrong("picture", picture_job(checked_landing(), folder.file("a.json"), request,
                                               options, folder.file("b.png")));
    CHECK(wrong.settle().error);
    CHECK(folder.names() == std::set<std::string>{"a.png"});
}
