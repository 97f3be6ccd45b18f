// How figures read: each finding has a scene that shows it and one just short of it.
#include <doctest/doctest.h>

#include <cmath>

#include <glm/geometric.hpp>
#include <glm/trigonometric.hpp>

#include "check/reads.h"
#include "figure/settle.h"
#include "measure/tolerance.h"
#include "support/scenes.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

const MemoryFiles no_files;
constexpr const char* file = "scene.json";

FigureForm& form_of(Piece& piece) {
    return std::get<FigureForm>(piece.parts.front().form);
}

FigureReads reads_of(const Document& document) {
    const auto staging = stage(document, file, no_files, StagedFor::checks);
    REQUIRE(staging.ok());
    const auto rules = rules_in_force(*document.rules);
    REQUIRE(rules.ok());
    return check_figure_reads(*staging, *rules);
}

int count(const FigureReads& reads, const std::string& check) {
    int found = 0;
    for (const Finding& finding : reads.findings)
        found += finding.check == check ? 1 : 0;
    return found;
}

glm::dvec3 palm_of(const Document& document) {
    const auto figures = placed_figures(document, file, no_files);
    REQUIRE(figures.ok());
    const PlacedFigure& figure = **figures->begin();
    const auto& contacts = figure.figure.skeleton->contacts;
    std::size_t palm = 0;
    while (contacts[palm].name != "right palm")
        ++palm;
    return to_outer(figure.form, figure.posed.contacts[palm].place);
}

} // namespace

TEST_CASE("a hand off its contact: the distance is that between the two, the limit has two sides") {
    const Document alone = with_piece(bare_scene(), figure_piece("seller", 100, -200, 30));
    const glm::dvec3 palm = palm_of(alone);
    for (const double off : {0.0, 4.99, 5.01, 300.0}) {
        Piece seller = figure_piece("seller", 100, -200, 30);
        Touch touch;
        touch.contact = "right palm";
        touch.piece = "cup";
        seller.touches = {touch};
        Document document = with_piece(bare_scene(), seller);
        document = with_piece(
            document, box_piece("cup", palm.x + 0.6 * off, palm.y - 0.8 * off, palm.z, 50, 50, 50));
        const FigureReads reads = reads_of(document);
        REQUIRE(reads.touches.size() == 1);
        CHECK(std::abs(reads.touches[0].off - off) < 1e-6);
        CHECK(count(reads, "touch") == (off > 5 ? 1 : 0));
    }
}

TEST_CASE("eyes that would have to turn too far: the limit is widened by the tolerances") {
    // A thing straight before the eyes, and then round by an angle. NUREG-0700 Rev. 3 (2020),
    // 11.3.1.2-2: eyes turn 35 degrees at most.
    const Document alone = with_piece(bare_scene(), figure_piece("one", 0, 0, 0));
    const auto figures = placed_figures(alone, file, no_files);
    REQUIRE(figures.ok());
    const glm::dvec3 eyes = (*figures)[0]->posed.eyes;
    constexpr double away = 3000;
    const double uncertain = placing_tolerance_deg +
                             glm::degrees(std::atan2(std::sqrt(2.0) * placing_tolerance_mm, away));
    for (const double turn : {0.0, 20.0, 35 + uncertain - 0.01, 35 + uncertain + 0.01, 120.0}) {
        Piece one = figure_piece("one", 0, 0, 0);
        Gaze gaze;
        gaze.piece = "boat";
        one.looks_at = gaze;
        Document document = with_piece(bare_scene(), one);
        const double x = eyes.x + away * std::sin(glm::radians(turn)),
                     y = eyes.y - away * std::cos(glm::radians(turn));
        document = with_piece(document, box_piece("boat", x, y, eyes.z, 100, 100, 100));
        const FigureReads reads = reads_of(document);
        REQUIRE(reads.looks.size() == 1);
        CHECK(std::abs(reads.looks[0].eye_turn - turn) < 1e-6);
        CHECK(std::abs(reads.looks[0].uncertain - uncertain) < 1e-9);
        CHECK(count(reads, "gaze") == (turn > 35 + uncertain ? 1 : 0));
        CHECK_FALSE(reads.looks[0].meets_eyes);
    }
}

TEST_CASE("two who look at each other meet eyes; one who looks at another's hat does not") {
    Piece left = figure_piece("left", -500, 0, 270), right = figure_piece("right", 500, 0, 90);
    Gaze gaze;
    gaze.piece = "right";
    left.looks_at = gaze;
    gaze.piece = "left";
    right.looks_at = gaze;
    const FigureReads meet = reads_of(with_piece(with_piece(bare_scene(), left), right));
    REQUIRE(meet.looks.size() == 2);
    CHECK(meet.looks[0].meets_eyes);
    CHECK(meet.looks[1].meets_eyes);
    CHECK(meet.findings.empty());
    right.looks_at->at = Point3{0, 0, 1800};
    const FigureReads past = reads_of(with_piece(with_piece(bare_scene(), left), right));
    CHECK_FALSE(past.looks[0].meets_eyes);
    CHECK_FALSE(past.looks[1].meets_eyes);
}

TEST_CASE("a joint beyond its range is a finding with both ends, one at its end is none") {
    for (const double deg : {150.0, 151.0, -5.0}) {
        Piece one = figure_piece("one", 0, 0, 0);
        form_of(one).turns = {{"right elbow", "flexion", deg}};
        const FigureReads reads = reads_of(with_piece(bare_scene(), one));
        // Elbow flexion 0 to 150: AAOS, Joint Motion (1965).
        const bool beyond = deg > 150 || deg < 0;
        CHECK(count(reads, "joint-range") == (beyond ? 1 : 0));
        REQUIRE(reads.beyond.size() == (beyond ? 1U : 0U));
        if (!beyond) continue;
        CHECK(reads.beyond[0].angle == deg);
        CHECK(reads.beyond[0].least == 0);
        CHECK(reads.beyond[0].most == 150);
    }
}

TEST_CASE("what solving turned counts over the pose and the turns") {
    Piece one = figure_piece("one", 0, 0, 0);
    form_of(one).turns = {{"right elbow", "flexion", 160}};
    form_of(one).solved = {{"right elbow", "flexion", 90}};
    CHECK(reads_of(with_piece(bare_scene(), one)).beyond.empty());
}

TEST_CASE("a seat at another ratio is off by its height times what the ratios differ by") {
    // A seat 40 mm high in the original: at 12:1 it is 480 mm, at the figure's 12.2:1 488 mm.
    for (const double ratio : {12.0, 12.2, 12.3}) {
        Piece sitter = figure_piece("sitter", 0, 0, 0);
        sitter.ratio = ratio;
        form_of(sitter).stature = 140;
        Touch touch;
        touch.how = TouchHow::sits_on;
        touch.contact = "seat";
        touch.piece = "bench";
        touch.at = {0, 0, 40};
        sitter.touches = {touch};
        Piece bench = box_piece("bench", 0, 0, 0, 100, 40, 40);
        bench.ratio = 12;
        const FigureReads reads = reads_of(with_piece(with_piece(bare_scene(), sitter), bench));
        REQUIRE(reads.touches.size() == 1);
        CHECK(std::abs(reads.touches[0].ratio_step - 40 * (12 - ratio)) < 1e-9);
        CHECK(count(reads, "ratio-step") == (ratio > 12.25 ? 1 : 0));
    }
}

TEST_CASE("a palm's turn off lying flat is that between the two") {
    Piece one = figure_piece("one", 0, 0, 0);
    Touch touch;
    touch.contact = "right palm";
    touch.piece = "box";
    // The neutral palm faces the thigh, +X of a figure at facing 0: flat on a left side.
    for (const auto& [side, turned] :
         {std::pair{PieceSide::left, 0.0}, {PieceSide::top, 90.0}, {PieceSide::right, 180.0}}) {
        touch.side = side;
        one.touches = {touch};
        const Document document =
            with_piece(with_piece(bare_scene(), one), box_piece("box", 0, -400, 0, 50, 50, 50));
        CHECK(std::abs(reads_of(document).touches[0].turned - turned) < 0.6);
    }
}

TEST_CASE("figures that are off for the checks are not read") {
    Piece one = figure_piece("one", 0, 0, 0);
    form_of(one).turns = {{"right elbow", "flexion", 151}};
    one.off = Off::views;
    CHECK(reads_of(with_piece(bare_scene(), one)).findings.size() == 1);
    one.off = Off::views_and_checks;
    CHECK(reads_of(with_piece(bare_scene(), one)).findings.empty());
}
