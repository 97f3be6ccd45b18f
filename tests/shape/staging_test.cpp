// Staging: pieces made solid, placed, shared by content, left out when off.
#include "shape/staging.h"

#include <cmath>
#include <numbers>

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include "shape/mass_properties.h"
#include "shape/staging_mesh.h"
#include "staging_scenes.h"
#include "support/random.h"

using namespace standpoint;
using namespace standpoint::staging_scenes;

namespace {

const Part hull = part("hull", BoxForm{40, 12, 9});
const Part mast = part("mast", CylinderForm{2, 60}, {5, -3, 9, 0, 0, 0});
const Part flag = part("flag", WallForm{10, 1, 6, {}}, {9, -3, 60, 30, 0, 5});

Piece boat(const std::string& id, const Pose6& at = {}) {
    return piece(id, {hull, mast, flag}, at);
}

double distance(const glm::dvec3& a, const glm::dvec3& b) {
    return glm::length(a - b);
}

} // namespace

TEST_CASE("a piece is the union of its parts, each with its name, place and material") {
    Piece whole = boat("boat");
    whole.ratio = Ratio(1);
    whole.parts[1].colour = "#ff8000";
    whole.parts[2].lets_through = Number(0.25);
    const Staging staging = staged(with_pieces({whole}));
    const Mesh& mesh = *find(staging, "boat").mesh;
    REQUIRE(mesh.parts.size() == 3);
    double sum = 0;
    Box box;
    for (std::size_t i = 0; i < 3; ++i) {
        Piece alone = piece("alone", {whole.parts[i]});
        alone.ratio = Ratio(1);
        const Staging one = staged(with_pieces({alone}));
        sum += mass_properties(*find(one, "alone").mesh).volume;
        box = joined(box, find(one, "alone").box);
        CHECK(mesh.parts[i].name == whole.parts[i].name);
        CHECK(mesh.parts[i].belongs_to == whole.parts[i].name);
    }
    const MassProperties m = mass_properties(mesh);
    CHECK(m.closed);
    CHECK(std::abs(m.volume - sum) < 1e-8);
    CHECK(find(staging, "boat").box.low == box.low);
    CHECK(find(staging, "boat").box.high == box.high);
    const auto material = [&](std::size_t i) { return mesh.materials[mesh.parts[i].material]; };
    CHECK(material(0).colour == default_colour(PieceKind::prop));
    // IEC 61966-2-1: 128 / 255 is 0.21586 of full light.
    CHECK(glm::length(material(1).colour - glm::vec4(1, 0.21586, 0, 1)) < 1e-5);
    CHECK(material(1).lets_through == 0);
    CHECK(material(2).lets_through == 0.25f);
}

TEST_CASE("a part is placed by its position and turns in the piece's axes") {
    // Facing 90 is clockwise seen from above: the front, -Y, comes to look along -X.
    Piece sign = piece("sign", {part("", BoxForm{2, 10, 4}, {100, 200, 300, 90, 0, 0})});
    sign.ratio = Ratio(1);
    const Staging staging = staged(with_pieces({sign}));
    CHECK(find(staging, "sign").box.low == glm::dvec3(95, 199, 300));
    CHECK(find(staging, "sign").box.high == glm::dvec3(105, 201, 304));
}

TEST_CASE("placing enlarges by the ratio") {
    support::Random random(31);
    for (int i = 0; i < 20; ++i) {
        Piece small = boat("boat", {random.uniform(-900, 900), random.uniform(-900, 900), 0,
                                    random.uniform(0, 360), random.uniform(-20, 20), 0});
        small.ratio = Ratio(1);
        Piece built = small;
        built.ratio = Ratio(random.uniform(0.5, 24));
        const Staging a = staged(with_pieces({small})), b = staged(with_pieces({built}));
        const StagedPiece &s = find(a, "boat"), &t = find(b, "boat");
        const glm::dvec3 origin(small.at.x.mm, small.at.y.mm, small.at.z.mm);
        const double ratio = built.ratio->value;
        CHECK(distance(t.box.low, origin + ratio * (s.box.low - origin)) < 1e-9);
        CHECK(distance(t.box.high, origin + ratio * (s.box.high - origin)) < 1e-9);
        CHECK(s.mesh_hash == t.mesh_hash);
    }
}

TEST_CASE("the box holds every corner of the placed mesh and is touched on all six sides") {
    const Staging staging = staged(with_pieces({boat("boat", {10, 20, 30, 40, 15, -25})}));
    const StagedPiece& placed = find(staging, "boat");
    Box box;
    for (std::uint32_t i = 0; i < placed.mesh->triangles.size(); ++i) {
        const Triangle t = scene_triangle(placed, i);
        for (const glm::dvec3& corner : {t.a, t.b, t.c})
            box = grown(box, corner);
    }
    CHECK(box.low == placed.box.low);
    CHECK(box.high == placed.box.high);
    const glm::uvec3 first = placed.mesh->triangles[0];
    CHECK(to_scene(placed, placed.mesh->positions[first.y]) == scene_triangle(placed, 0).b);
}

TEST_CASE("four quarter turns give exactly the same box, and each one exactly the turned box") {
    const auto box_at = [](double facing) {
        return find(staged(with_pieces({boat("boat", {0.1, 0.7, 0, facing, 0, 0})})), "boat").box;
    };
    const Box still = box_at(0);
    CHECK(box_at(360).low == still.low);
    CHECK(box_at(360).high == still.high);
    CHECK(box_at(-720).high == still.high);
    // A quarter turn takes (x, y) to (y, -x) about the piece's own place.
    Piece centred = boat("boat");
    const Box before = find(staged(with_pieces({centred})), "boat").box;
    centred.at.facing = 90;
    const Box after = find(staged(with_pieces({centred})), "boat").box;
    CHECK(after.low == glm::dvec3(before.low.y, -before.high.x, before.low.z));
    CHECK(after.high == glm::dvec3(before.high.y, -before.low.x, before.high.z));
    // Turned on through four hosts, a quarter each.
    std::vector<Piece> chain{boat("boat-0")};
    for (int i = 1; i <= 4; ++i) {
        chain.push_back(boat("boat-" + std::to_string(i), {0, 0, 0, 90, 0, 0}));
        chain.back().support = Support::stands_on;
        chain.back().host = "boat-" + std::to_string(i - 1);
    }
    const Staging staging = staged(with_pieces(chain));
    CHECK(find(staging, "boat-4").box.low == find(staging, "boat-0").box.low);
    CHECK(find(staging, "boat-4").box.high == find(staging, "boat-0").box.high);
    CHECK(find(staging, "boat-1").box.low != find(staging, "boat-0").box.low);
}

TEST_CASE("two thousand equal pieces share one mesh") {
    std::vector<Piece> fleet;
    for (int i = 0; i < 2000; ++i) {
        fleet.push_back(boat("boat-" + std::to_string(i), {10.0 * i, 0, 0, 1.0 * i, 0, 0}));
    }
    const Staging staging = staged(with_pieces(fleet));
    for (int i = 0; i < 2000; ++i)
        CHECK(staging.pieces[i].mesh == staging.pieces[0].mesh);
}

TEST_CASE("meshes are shared by content: what shows tells them apart, how it was typed does not") {
    Piece plain = boat("plain");
    std::vector<Piece> pieces(9, plain);
    pieces[1].parts[0].form = BoxForm{40, 12, 9.0000001};
    pieces[2].parts[1].at.tilt = 1;
    pieces[3].parts[0].colour = "#112233";
    pieces[4].parts[0].lets_through = Number(0.5);
    pieces[5].parts[0].name = "keel";
    pieces[6].kind = PieceKind::barrier; // has a colour of its own
    std::swap(pieces[7].parts[0], pieces[7].parts[1]);
    pieces[8].parts[0].form = CylinderForm{40, 12};
    for (std::size_t i = 0; i < pieces.size(); ++i)
        pieces[i].id = "boat-" + std::to_string(i);
    Piece typed = plain;
    typed.id = "typed";
    std::get<BoxForm>(typed.parts[0].form).width.as_read = "\"4 cm\"";
    typed.parts[0].at.x = -0.0;
    typed.name = "another name";
    pieces.push_back(typed);
    const Staging staging = staged(with_pieces(pieces));
    for (std::size_t i = 0; i < 9; ++i) {
        for (std::size_t j = 0; j < i; ++j) {
            CHECK(staging.pieces[i].mesh != staging.pieces[j].mesh);
            CHECK(staging.pieces[i].mesh_hash != staging.pieces[j].mesh_hash);
        }
    }
    CHECK(find(staging, "typed").mesh == staging.pieces[0].mesh);
    // With every part coloured the kind makes no difference.
    for (Part& p : plain.parts)
        p.colour = "#405060";
    Piece fence = plain;
    fence.id = "fence";
    fence.kind = PieceKind::barrier;
    const Staging coloured = staged(with_pieces({plain, fence}));
    CHECK(coloured.pieces[0].mesh == coloured.pieces[1].mesh);
}

TEST_CASE("pieces that are off are left out by purpose, and what stands on them stays") {
    Piece seen = boat("seen"), unseen = boat("unseen"), gone = boat("gone", {7, 8, 9, 0, 0, 0});
    unseen.off = Off::views;
    gone.off = Off::views_and_checks;
    Piece rider = boat("rider", {1, 1, 1, 0, 0, 0});
    rider.support = Support::stands_on;
    rider.host = "gone";
    const Document document = with_pieces({seen, unseen, gone, rider});
    const Staging views = staged(document, MemoryFiles{}, StagedFor::views);
    CHECK(find_staged(views, "seen") != nullptr);
    CHECK(find_staged(views, "unseen") == nullptr);
    CHECK(find_staged(views, "gone") == nullptr);
    const Staging checks = staged(document, MemoryFiles{}, StagedFor::checks);
    CHECK(find_staged(checks, "unseen") != nullptr);
    CHECK(find_staged(checks, "gone") == nullptr);
    for (const Staging* staging : {&views, &checks}) {
        CHECK(find(*staging, "rider").placement.frame.origin == glm::dvec3(8, 9, 10));
    }
}

TEST_CASE("default colours of the kinds can be told apart") {
    // CIE 1976 L*a*b* of linear sRGB, white D65; the limit of 15 is our own choice.
    const auto lab = [](const glm::vec4& c) {
        const double x = (0.4124 * c.r + 0.3576 * c.g + 0.1805 * c.b) / 0.9505;
        const double y = 0.2126 * c.r + 0.7152 * c.g + 0.0722 * c.b;
        const double z = (0.0193 * c.r + 0.1192 * c.g + 0.9505 * c.b) / 1.089;
        return glm::dvec3(116 * std::cbrt(y) - 16, 500 * (std::cbrt(x) - std::cbrt(y)),
                          200 * (std::cbrt(y) - std::cbrt(z)));
    };
    for (int i = 0; i < 7; ++i) {
        for (int j = 0; j < i; ++j) {
            CAPTURE(i);
            CAPTURE(j);
            CHECK(distance(lab(default_colour(static_cast<PieceKind>(i))),
                           lab(default_colour(static_cast<PieceKind>(j)))) > 15);
        }
    }
}

TEST_CASE("a form that makes no solid is refused by scene file, pointer and piece") {
    Piece fine = boat("fine"), bad = boat("rail");
    FenceForm fence;
    fence.run = {{0.0, 0.0}, {50.0, 0.0}};
    fence.height = 90;
    fence.post_diameter = 8;
    fence.post_spacing = 100;
    fence.rail_heights = {80.0};
    fence.rail_diameter = 3;
    fence.sag = 79;
    bad.parts[2].form = fence;
    const Error error = refused(with_pieces({fine, bad}));
    CHECK(error.code == ErrorCode::input);
    CHECK(error.where == "landing/scene.json (/pieces/1/parts/2)");
    CHECK(error.message.find("piece \"rail\": found a rail 80 high with sag 79") == 0);
    bad.parts[2] = part("flag", BoxForm{1, 1, 1});
    bad.parts[2].colour = "#12345g";
    CHECK(refused(with_pieces({bad})).message ==
          "piece \"rail\": found colour \"#12345g\", expected #rrggbb");
}

TEST_CASE("restaging after any edits gives what staging anew gives, and keeps what is unchanged") {
    support::Random random(77);
    std::vector<Piece> pieces;
    for (int i = 0; i < 12; ++i)
        pieces.push_back(boat("boat-" + std::to_string(i)));
    Document document = with_pieces(pieces);
    Staging staging = staged(document);
    for (int step = 0; step < 100; ++step) {
        auto list = *document.pieces;
        const std::size_t which = static_cast<std::size_t>(random.integer(0, 11));
        Piece edited = *list[which];
        switch (random.integer(0, 3)) {
        case 0:
            edited.at.x = random.uniform(-500, 500);
            break;
        case 1:
            edited.parts[0].form = BoxForm{random.uniform(10, 30), 12, 9};
            break;
        case 2:
            edited.kind = static_cast<PieceKind>(random.integer(0, 6));
            break;
        default:
            edited.off = static_cast<Off>(random.integer(0, 2));
            break;
        }
        list[which] = std::make_shared<const Piece>(edited);
        document.pieces = std::make_shared<const std::vector<std::shared_ptr<const Piece>>>(list);
        Result<Staging> next =
            restage(staging, document, scene_file, MemoryFiles{}, StagedFor::checks);
        REQUIRE(next.ok());
        CHECK(same(*next, staged(document)));
        for (const StagedPiece& before : staging.pieces) {
            const StagedPiece* after = find_staged(*next, before.id);
            if (after && after->mesh_hash == before.mesh_hash) CHECK(after->mesh == before.mesh);
        }
        staging = std::move(*next);
    }
}
