// Both sides of every limit of a document, and deep or long ones.
#include <doctest/doctest.h>

#include <cmath>
#include <functional>
#include <limits>

#include "scene/document.h"
#include "support/scenes.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

std::string fault(const Document& document) {
    const Status status = validate(document);
    return status.ok() ? "" : one_line(status.error());
}

// The fault of a scene with one piece that `change` has changed.
std::string piece_fault(const std::function<void(Piece&)>& change) {
    Piece piece = box_piece("hut", 0, 0, 0, 100, 100, 100);
    change(piece);
    return fault(with_piece(bare_scene(), piece));
}

std::string form_fault(const Form& form) {
    return piece_fault([&](Piece& piece) { piece.parts[0].form = form; });
}

template <class T> Document with(T Document::*member, const typename T::element_type& value) {
    Document document = bare_scene();
    document.*member = std::make_shared<typename T::element_type>(value);
    return document;
}

bool speaks_of(const std::string& fault, const std::string& part) {
    return fault.find(part) != std::string::npos;
}

const double just_over = std::nextafter(largest_length_mm, 1e300);

} // namespace

TEST_CASE("the starting scene, a bare one and one with a box are valid") {
    CHECK(fault(empty_document()) == "");
    CHECK(fault(bare_scene()) == "");
    CHECK(piece_fault([](Piece&) {}) == "");
}

TEST_CASE("lengths: up to 10 km either way, finite, and positive where they must be") {
    const auto at_x = [](double x) { return piece_fault([&](Piece& piece) { piece.at.x = x; }); };
    CHECK(at_x(largest_length_mm) == "");
    CHECK(at_x(-largest_length_mm) == "");
    CHECK(at_x(just_over).starts_with("/pieces/0/at/x: found"));
    CHECK(at_x(-just_over) != "");
    CHECK(at_x(std::numeric_limits<double>::quiet_NaN()) != "");
    CHECK(at_x(std::numeric_limits<double>::infinity()) != "");
    const double least = std::numeric_limits<double>::denorm_min();
    CHECK(form_fault(BoxForm{least, 1, 1}) == "");
    CHECK(form_fault(BoxForm{0, 1, 1}).starts_with("/pieces/0/parts/0/box/width: found 0 mm"));
    CHECK(form_fault(BoxForm{1, -1, 1}) != "");
}

TEST_CASE("angles, ratios and shares") {
    const auto facing = [](double deg) {
        return piece_fault([&](Piece& piece) { piece.at.facing = deg; });
    };
    CHECK(facing(36000) == "");
    CHECK(facing(36000.1) != "");
    const auto ratio = [](double value) {
        return piece_fault([&](Piece& piece) { piece.ratio = value; });
    };
    CHECK(ratio(0.001) == "");
    CHECK(ratio(0.000999) != "");
    CHECK(ratio(10000) == "");
    CHECK(ratio(10000.1) != "");
    CHECK(ratio(std::numeric_limits<double>::quiet_NaN()) != "");
    const auto lets_through = [](double share) {
        return piece_fault([&](Piece& piece) { piece.parts[0].lets_through = share; });
    };
    CHECK(lets_through(0) == "");
    CHECK(lets_through(1) == "");
    CHECK(lets_through(-0.001) != "");
    CHECK(lets_through(1.001) != "");
}

TEST_CASE("forms: both sides of what they must be") {
    const std::vector<PlanPoint> triangle = {plan(0, 0), plan(10, 0), plan(5, 10)};
    CHECK(form_fault(ConeForm{10, 0, 5}) == "");
    CHECK(form_fault(ConeForm{10, -1, 5}) != "");
    CHECK(form_fault(CapsuleForm{10, 10}) == "");
    CHECK(form_fault(CapsuleForm{10, 9.999}) != "");
    CHECK(form_fault(ExtrusionForm{triangle, 5}) == "");
    CHECK(form_fault(ExtrusionForm{{plan(0, 0), plan(10, 10), plan(10, 0), plan(0, 10)}, 5}) != "");
    CHECK(form_fault(TurningForm{{plan(0, 0), plan(5, 10)}}) == "");
    CHECK(form_fault(TurningForm{{plan(-0.1, 0), plan(5, 10)}}) != "");
    CHECK(form_fault(TurningForm{{plan(5, 10)}}) != "");
    CHECK(form_fault(StairsForm{10, 5, 3, 1000}) == "");
    CHECK(form_fault(StairsForm{10, 5, 3, 1001}) != "");
    CHECK(form_fault(StairsForm{10, 5, 3, 0}) != "");
    CHECK(form_fault(TerrainForm{10, 10, 2, 2, {0, 0, 0, 0}}) == "");
    CHECK(form_fault(TerrainForm{10, 10, 1, 4, {0, 0, 0, 0}}) != "");
    CHECK(form_fault(TerrainForm{10, 10, 2, 2, {0, 0, 0, -1}}) != "");
    CHECK(form_fault(TerrainForm{10, 10, 2, 2, {0, 0, 0}}) != "");
}

TEST_CASE("fences: rails within the height, and no endless row of posts") {
    const std::vector<PlanPoint> run = {plan(0, 0), plan(9998, 0)};
    CHECK(form_fault(FenceForm{run, 90, 3, 1, {90}, 2, 0}) == "");
    CHECK(form_fault(FenceForm{run, 90, 3, 1, {90.1}, 2, 0}) != "");
    CHECK(form_fault(FenceForm{run, 90, 3, 1, {45}, 0, 0}) != "");
    CHECK(form_fault(FenceForm{run, 90, 3, 1, {}, 0, 0}) == "");
    CHECK(speaks_of(form_fault(FenceForm{run, 90, 3, 0.999, {}, 0, 0}), "posts"));
    CHECK(form_fault(FenceForm{{plan(0, 0), plan(0, 0)}, 90, 3, 1, {}, 0, 0}) != "");
}

TEST_CASE("wall openings: inside the wall, and apart") {
    const auto openings = [](std::vector<WallOpening> all) {
        return form_fault(WallForm{100, 4, 80, std::move(all)});
    };
    CHECK(openings({{10, 0, 90, 80}}) == "");
    CHECK(openings({{10, 0, 90.1, 80}}) != "");
    CHECK(openings({{10, 0.1, 90, 80}}) != "");
    CHECK(openings({{10, 0, 20, 40}, {30.01, 0, 20, 40}}) == "");
    CHECK(openings({{10, 0, 20, 40}, {30, 0, 20, 40}}) != "");
    CHECK(openings({{10, 0, 20, 40}, {10, 40.01, 20, 20}}) == "");
    CHECK(openings({{10, 0, 20, 40}, {10, 40, 20, 20}}) != "");
}

TEST_CASE("names: marks have one, one part may have none, none twice") {
    const auto named = [](std::vector<std::string> names) {
        return piece_fault([&](Piece& piece) {
            const Part part = piece.parts[0];
            piece.parts.clear();
            for (const std::string& name : names) {
                piece.parts.push_back(part);
                piece.parts.back().name = name;
            }
        });
    };
    CHECK(named({""}) == "");
    CHECK(named({"front", ""}) == "");
    CHECK(named({"", ""}) != "");
    CHECK(named({"front", "front"}).starts_with("/pieces/0/parts/1/name: "));
    CHECK(named({}) != "");
    const auto marked = [](std::vector<Mark> marks) {
        return piece_fault([&](Piece& piece) { piece.marks = std::move(marks); });
    };
    CHECK(marked({{"left heel", {}}, {"right heel", {}}}) == "");
    CHECK(marked({{"left heel", {}}, {"left heel", {}}}) != "");
    CHECK(marked({{"", {}}}) != "");
}

TEST_CASE("columns are round or have sides") {
    const auto column = [](double width, double depth, double diameter) {
        Hall hall = *bare_scene().hall;
        hall.columns = {{"column-west", plan(0, 0), width, depth, diameter}};
        return fault(with(&Document::hall, hall));
    };
    CHECK(column(0, 0, 400) == "");
    CHECK(column(300, 400, 0) == "");
    CHECK(column(0, 0, 0).starts_with("/hall/columns/0: "));
    CHECK(column(300, 0, 0) != "");
    CHECK(column(300, 400, 400) != "");
}

TEST_CASE("texts: printable, UTF-8, of a length") {
    const auto name = [](const std::string& text) {
        return piece_fault([&](Piece& piece) { piece.name = text; });
    };
    const auto note = [](const std::string& text) {
        return piece_fault([&](Piece& piece) { piece.note = text; });
    };
    CHECK(name("Fährsteg ⚓") == "");
    CHECK(name("two\nlines") != "");
    CHECK(note("two\nlines\tand a tab") == "");
    CHECK(note("a return\r") != "");
    CHECK(name(std::string("nul\0", 4)) != "");
    CHECK(name("\xFF") != "");
    CHECK(name(std::string(1000, 'n')) == "");
    CHECK(name(std::string(1001, 'n')) != "");
    CHECK(note(std::string(20000, 'n')) == "");
    CHECK(note(std::string(20001, 'n')) != "");
}

TEST_CASE("support and host come together") {
    const auto held = [](Support support, const std::string& host) {
        return piece_fault([&](Piece& piece) {
            piece.support = support;
            piece.host = host;
        });
    };
    CHECK(held(Support::none, "") == "");
    CHECK(held(Support::section, "section-a") == "");
    CHECK(held(Support::none, "section-a") != "");
    CHECK(held(Support::section, "") != "");
    CHECK(held(Support::stands_on, "section-a").starts_with("/pieces/0/on: "));
    CHECK(held(Support::section, "hut").starts_with("/pieces/0/section: "));
    CHECK(speaks_of(held(Support::hangs_from, "hut"), "carried by itself"));
}

TEST_CASE("a section may not be lost while something refers to it") {
    Document document = with_piece(bare_scene(), box_piece("hut", 0, 0, 0, 1, 1, 1));
    document.join_lines = std::make_shared<const std::vector<JoinLine>>(
        1, JoinLine{"section-a", "section-b", plan(0, 0), plan(1, 0)});
    CHECK(fault(document).starts_with("/join_lines/0/between/1: "));
    auto sections = *document.sections;
    sections.push_back({"section-b", "B", plan(3000, 0), 3000, 1800, 150});
    document.sections = std::make_shared<const std::vector<Section>>(sections);
    CHECK(fault(document) == "");
    CHECK(find_section(document, "section-b") == &(*document.sections)[1]);
    CHECK(find_section(document, "section-c") == nullptr);
}

TEST_CASE("targets: box corners in order, limits, names of parts") {
    const auto target_fault = [](const std::function<void(Target&)>& change) {
        Target target;
        target.id = "hatch";
        target.piece = "hut";
        change(target);
        return fault(
            with_target(with_piece(bare_scene(), box_piece("hut", 0, 0, 0, 1, 1, 1)), target));
    };
    CHECK(target_fault([](Target&) {}) == "");
    CHECK(target_fault([](Target& t) { t.patch.parts = {"body"}; }) == "");
    CHECK(target_fault([](Target& t) { t.patch.parts = {"roof"}; }) != "");
    CHECK(target_fault([](Target& t) { t.facing_limit = 180; }) == "");
    CHECK(target_fault([](Target& t) { t.facing_limit = 180.5; }) != "");
    CHECK(target_fault([](Target& t) { t.facing_limit = 0; }) != "");
    const auto box = [&](Point3 low, Point3 high) {
        return target_fault([&](Target& t) {
            t.patch.low = low;
            t.patch.high = high;
        });
    };
    CHECK(box({0, 0, 0}, {1, 1, 1}) == "");
    CHECK(box({0, 0, 0}, {1, 1, 0}) != "");
    CHECK(box({0, 2, 0}, {1, 1, 1}) != "");
    // A piece with a model has names that only its file knows.
    Piece boat = box_piece("hut", 0, 0, 0, 1, 1, 1);
    boat.parts[0].form = ModelForm{"models/boat.glb", 1000};
    Target target;
    target.id = "bow";
    target.piece = "hut";
    target.patch.parts = {"bow"};
    CHECK(fault(with_target(with_piece(bare_scene(), boat), target)) == "");
}

TEST_CASE("model files: beside the scene, glTF, and nowhere else") {
    const auto model = [](const std::string& file) { return form_fault(ModelForm{file, 1000}); };
    CHECK(model("models/boat.glb") == "");
    CHECK(model("boat.gltf") == "");
    for (const char* file : {"", "/boat.glb", "../boat.glb", "models/%2e%2e/%2e%2e/boat.glb",
                             "models\\boat.glb", "http://example/boat.glb", "boat.obj"})
        CHECK(speaks_of(model(file), "/pieces/0/parts/0/model/file: found"));
}

TEST_CASE("a chain of 2000 supports, and the same chain closed to a ring") {
    std::vector<std::shared_ptr<const Piece>> pieces;
    constexpr int count = 2000;
    for (int i = 0; i < count; ++i) {
        // Hosts come after what they carry, the worst order for one who looks things up.
        Piece piece = box_piece("p" + std::to_string(i), 0, 0, 10, 10, 10, 10);
        piece.support = i + 1 < count ? Support::stands_on : Support::section;
        piece.host = i + 1 < count ? "p" + std::to_string(i + 1) : "section-a";
        pieces.push_back(std::make_shared<const Piece>(piece));
    }
    Document document = bare_scene();
    using List = std::vector<std::shared_ptr<const Piece>>;
    document.pieces = std::make_shared<const List>(pieces);
    CHECK(fault(document) == "");
    CHECK(sections_of(document) == std::vector<std::string>(count, "section-a"));
    CHECK(section_of(document, *pieces[0]) == "section-a");

    Piece last = *pieces.back();
    last.support = Support::hangs_from;
    last.host = "p1000";
    pieces.back() = std::make_shared<const Piece>(last);
    document.pieces = std::make_shared<const List>(pieces);
    CHECK(speaks_of(fault(document), "carried by itself"));
}

TEST_CASE("ratios in force, by kind") {
    Document document = bare_scene();
    Settings settings;
    settings.setting_ratio = 12;
    settings.figure_ratio = 14;
    document.settings = std::make_shared<const Settings>(settings);
    const auto ratio = [&](PieceKind kind, std::optional<Ratio> own) {
        Piece piece = box_piece("hut", 0, 0, 0, 1, 1, 1);
        piece.kind = kind;
        piece.ratio = own;
        return ratio_of(document, piece);
    };
    CHECK(ratio(PieceKind::figure, std::nullopt) == 14);
    CHECK(ratio(PieceKind::prop, std::nullopt) == 12);
    CHECK(ratio(PieceKind::setting, std::nullopt) == 12);
    CHECK(ratio(PieceKind::ground, std::nullopt) == 12);
    CHECK(ratio(PieceKind::barrier, std::nullopt) == 1);
    CHECK(ratio(PieceKind::lamp, std::nullopt) == 1);
    CHECK(ratio(PieceKind::effect, std::nullopt) == 1);
    CHECK(ratio(PieceKind::barrier, Ratio(3)) == 3);
    CHECK(ratio(PieceKind::figure, Ratio(16)) == 16);
}

TEST_CASE("the same content, told apart by any member") {
    const Document a = with_piece(bare_scene(), box_piece("hut", 0, 0, 0, 1, 1, 1));
    const Document b = with_piece(bare_scene(), box_piece("hut", 0, 0, 0, 1, 1, 1));
    CHECK(same_content(a, b));
    CHECK(!same_content(a, bare_scene()));
    CHECK(!same_content(a, with_piece(bare_scene(), box_piece("hut", 0.001, 0, 0, 1, 1, 1))));
    Settings settings;
    settings.note = "low";
    Document c = a;
    c.settings = std::make_shared<const Settings>(settings);
    CHECK(!same_content(a, c));
}
