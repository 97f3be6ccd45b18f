// Marks of findings in the views: where they lie, which is under a pixel, and what a press picks.
#include <doctest/doctest.h>

#include "sitting.h"
#include "window/overlay_marks.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

constexpr double em = 16;

Finding finding_at(Grade grade, double x, double y, const std::string& message = "") {
    Finding finding;
    finding.grade = grade;
    finding.message = message;
    finding.place = glm::dvec3(x, y, 0);
    return finding;
}

ViewCamera plan_of_pixels() { // a millimetre a pixel, (0, 0) in the middle of 400 x 400
    ViewCamera camera;
    camera.kind = ViewKind::plan;
    camera.middle = {0, 0, 0};
    camera.mm_per_pixel = 1;
    return camera;
}

const glm::ivec2 size{400, 400};

} // namespace

TEST_CASE("marks lie where their findings are; notes and findings without a place have none") {
    CheckResults results;
    results.findings = {finding_at(Grade::warn, 100, 50), finding_at(Grade::note, 0, 0),
                        finding_at(Grade::fail, -100, 0), Finding{}};
    const auto marks = finding_marks(results, plan_of_pixels(), size, em);
    REQUIRE(marks.size() == 2);
    CHECK(marks[0].grade == Grade::fail); // it lies on top
    CHECK(marks[0].findings == std::vector<std::size_t>{2});
    CHECK(marks[0].at == glm::dvec2(100, 200));
    CHECK(marks[1].at == glm::dvec2(300, 150)); // y goes down on the screen
    ViewCamera eye = plan_of_pixels();
    eye.kind = ViewKind::eye;
    CHECK(finding_marks(results, eye, size, em).empty());
}

TEST_CASE("marks that would lie on one another are one, the worst first") {
    CheckResults results;
    results.findings = {finding_at(Grade::warn, 3, 0), finding_at(Grade::fail, 0, 0),
                        finding_at(Grade::fail, 60, 0)};
    const auto marks = finding_marks(results, plan_of_pixels(), size, em);
    REQUIRE(marks.size() == 2);
    CHECK(marks[0].findings == std::vector<std::size_t>{1, 0});
    CHECK(marks[1].findings == std::vector<std::size_t>{2});
    CHECK(next_of_mark(marks[0], -1) == 1);
    CHECK(next_of_mark(marks[0], 2) == 1); // of another mark
    CHECK(next_of_mark(marks[0], 1) == 0);
    CHECK(next_of_mark(marks[0], 0) == 1); // and round again
}

TEST_CASE("a mark is under the pixels of its shape and no others, the topmost of two") {
    std::vector<FindingMark> marks = {{{100, 100}, 6, Grade::fail, {0}},
                                      {{110, 100}, 6, Grade::warn, {1}}};
    CHECK(mark_under(marks, {100, 100}) == 0U);
    CHECK(mark_under(marks, {104, 100}) == 0U); // both are there
    CHECK(mark_under(marks, {112, 100}) == 1U);
    CHECK(mark_under(marks, {100, 107.7}) == 0U); // 1.3 radii
    CHECK_FALSE(mark_under(marks, {100, 107.9}));
    CHECK_FALSE(mark_under({}, {100, 100}));
}

TEST_CASE("a press on a mark picks its finding and leaves the view, a drag over it does not") {
    Sitting at({});
    Shell& shell = at.hand.shell;
    auto outcome = std::make_shared<CheckOutcome>();
    outcome->document = at.now();
    outcome->revision = shell.desk->revision;
    outcome->results = CheckResults{};
    outcome->results->findings = {finding_at(Grade::note, 0, 0, "a note"),
                                  finding_at(Grade::fail, 4300, 900, "too narrow")};
    shell.answers.outcome = outcome;
    at.hand.frame(2);
    const glm::vec2 place = at.hand.on_screen(0, {4300, 900, 0});
    const glm::dvec3 middle = shell.views[0].camera.middle;
    at.hand.click(place);
    CHECK(shell.finding == 1);
    CHECK(shell.message == "too narrow");
    CHECK(shell.views[0].camera.middle == middle);
    shell.finding = -1;
    at.hand.drag(place, place + glm::vec2(40, 40));
    CHECK(shell.finding == -1);
    at.hand.click(place + glm::vec2(40, 0));
    CHECK(shell.finding == -1);
}

TEST_CASE("the list of findings is at its top after an edit, and stays where it is otherwise") {
    Document document = bare_scene();
    for (int i = 0; i < 12; ++i) // each floats
        document = with_piece(
            document, box_piece("box-" + std::to_string(i), 400 * i, 4000, 300, 200, 200, 200));
    const TemporaryFolder folder;
    const std::string file = folder.path() + "/boxes.scene.json";
    std::ofstream(file) << write_document(document);
    Hand hand(1440, 700);
    hand.shell.check = std::make_unique<BackgroundCheck>();
    open_file(hand.shell, file);
    REQUIRE(hand.shell.desk);
    select_only(*hand.shell.desk, "box-3");
    hand.settle_checks();
    const auto top = [&] {
        return hand.has("findings/check") ? hand.middle("findings/check").y : -1e4f;
    };
    const float at_top = top();
    hand.move_to(hand.middle("panel/findings"));
    for (int i = 0; i < 3; ++i)
        hand.wheel(-3);
    hand.frame(5);
    CHECK(top() < at_top);
    hand.key("Right");
    hand.settle_checks();
    CHECK(hand.shell.desk->history.steps() == 1);
    CHECK(top() == at_top);
}
