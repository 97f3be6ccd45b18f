// Placements: against a recursive twin, and what must and must not change them.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include <glm/matrix.hpp>

#include "figure/placement.h"
#include "support/random.h"
#include "support/scenes.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

using List = std::vector<std::shared_ptr<const Piece>>;

Document with_pieces(const List& pieces) {
    Document document = bare_scene();
    document.pieces = std::make_shared<const List>(pieces);
    return document;
}

Piece held_by(const std::string& id, Support support, const std::string& host, const Pose6& at) {
    Piece piece = box_piece(id, 0, 0, 0, 10, 10, 10);
    piece.support = support;
    piece.host = host;
    piece.at = at;
    return piece;
}

// A forest: each piece on the floor, on the section, or on one before it.
List random_pieces(std::uint64_t seed, int count, double extent_mm) {
    Random random(seed);
    List pieces;
    for (int i = 0; i < count; ++i) {
        const auto kind = i == 0 ? random.integer(0, 1) : random.integer(0, 3);
        const auto support = static_cast<Support>(kind);
        std::string host;
        if (support == Support::section) host = "section-a";
        if (kind >= 2) host = pieces[static_cast<std::size_t>(random.integer(0, i - 1))]->id;
        const auto length = [&] { return Length(random.uniform(-extent_mm, extent_mm)); };
        Pose6 at{length(),
                 length(),
                 length(),
                 random.uniform(-360, 360),
                 random.uniform(-90, 90),
                 random.uniform(-180, 180)};
        pieces.push_back(
            std::make_shared<const Piece>(held_by("p" + std::to_string(i), support, host, at)));
    }
    return pieces;
}

// The scene point of a point of a piece, one host after the other, outermost last.
glm::dvec3 carried_out(const Document& document, const Piece& piece, glm::dvec3 point) {
    const Frame own{rotation_of(piece.at.facing.deg, piece.at.tilt.deg, piece.at.roll.deg),
                    {piece.at.x.mm, piece.at.y.mm, piece.at.z.mm}};
    point = to_outer(own, point);
    if (piece.support == Support::none) return point;
    if (piece.support == Support::section)
        return point + glm::dvec3(0, 0, find_section(document, piece.host)->height.mm);
    return carried_out(document, *find_piece(document, piece.host), point);
}

double distance(const glm::dvec3& a, const glm::dvec3& b) {
    return std::max({std::abs(a.x - b.x), std::abs(a.y - b.y), std::abs(a.z - b.z)});
}

const glm::dvec3 corners[] = {{0, 0, 0}, {1000, 0, 0}, {0, 1000, 0}, {0, 0, 1000}};

// Moves the first piece and checks who came along; how many did.
int moved_along(List pieces) {
    const auto before = placements(with_pieces(pieces));
    Piece moved = *pieces[0];
    moved.at.x = moved.at.x.mm + 500;
    pieces[0] = std::make_shared<const Piece>(moved);
    const Document document = with_pieces(pieces);
    const auto after = placements(document);
    int carried = 0;
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        const Piece* root = pieces[i].get();
        while (root->support == Support::stands_on || root->support == Support::hangs_from)
            root = find_piece(document, root->host);
        const bool along = root == pieces[0].get();
        carried += along;
        const glm::dvec3 shift(along ? 500 : 0, 0, 0);
        CHECK(distance(after[i].frame.origin, before[i].frame.origin + shift) < 1e-6);
        CHECK(after[i].frame.rotation == before[i].frame.rotation);
    }
    return carried;
}

} // namespace

TEST_CASE("against the recursive twin, point by point, in any order of the pieces") {
    for (std::uint64_t seed = 1; seed <= 20; ++seed) {
        List pieces = random_pieces(seed, 40, 3000);
        Random random(seed + 100);
        for (std::size_t i = pieces.size(); i > 1; --i)
            std::swap(pieces[i - 1],
                      pieces[static_cast<std::size_t>(random.integer(0, static_cast<int>(i) - 1))]);
        const Document document = with_pieces(pieces);
        REQUIRE(validate(document).ok());
        const auto placed = placements(document);
        REQUIRE(placed.size() == pieces.size());
        for (std::size_t i = 0; i < pieces.size(); ++i)
            for (const glm::dvec3& corner : corners)
                CHECK(distance(to_outer(placed[i].frame, corner),
                               carried_out(document, *pieces[i], corner)) < 1e-6);
    }
}

TEST_CASE("a piece's frame is its host frame and its own at") {
    const Document document = with_pieces(random_pieces(5, 60, 3000));
    const auto placed = placements(document);
    for (std::size_t i = 0; i < placed.size(); ++i) {
        const Piece& piece = *(*document.pieces)[i];
        const Frame host = host_frame(document, piece);
        const glm::dvec3 at(piece.at.x.mm, piece.at.y.mm, piece.at.z.mm);
        CHECK(distance(to_outer(host, at), placed[i].frame.origin) < 1e-6);
    }
}

TEST_CASE("on the floor, on a deck, on a turned piece, hanging") {
    // Facing 90 turns clockwise seen from above: the host's own x axis points to -y of the scene.
    const List pieces = {
        std::make_shared<const Piece>(held_by("stall", Support::none, "", {100, 200, 0, 90, 0, 0})),
        std::make_shared<const Piece>(
            held_by("hut", Support::section, "section-a", {10, 20, 5, 0, 0, 0})),
        std::make_shared<const Piece>(
            held_by("kettle", Support::stands_on, "stall", {30, 0, 900, 90, 0, 0})),
        std::make_shared<const Piece>(
            held_by("lamp", Support::hangs_from, "kettle", {0, 0, -50, 0, 0, 0}))};
    const auto placed = placements(with_pieces(pieces));
    CHECK(placed[0].frame.origin == glm::dvec3(100, 200, 0));
    CHECK(placed[1].frame.origin == glm::dvec3(10, 20, 155));
    CHECK(placed[2].frame.origin == glm::dvec3(100, 170, 900));
    CHECK(placed[3].frame.origin == glm::dvec3(100, 170, 850));
    // Two quarter turns are a half turn, exactly: the front, -y, looks to +y.
    CHECK(front_of(placed[3].frame.rotation) == glm::dvec3(0, 1, 0));
}

TEST_CASE("a host that moves takes along what it carries and nothing else") {
    int carried = 0;
    for (std::uint64_t seed = 1; seed <= 5; ++seed)
        carried += moved_along(random_pieces(seed, 30, 2000));
    CHECK(carried > 20);
}

TEST_CASE("positions of what stands on a piece are built millimetres, whatever its ratio") {
    Piece stall = box_piece("stall", 0, 0, 0, 10, 10, 10);
    stall.ratio = 12;
    Piece kettle = held_by("kettle", Support::stands_on, "stall", {30, 0, 900, 0, 0, 0});
    kettle.ratio = 14;
    const auto placed = placements(
        with_pieces({std::make_shared<const Piece>(stall), std::make_shared<const Piece>(kettle)}));
    CHECK(placed[1].frame.origin == glm::dvec3(30, 0, 900));
    CHECK(placed[0].scale == 12);
    CHECK(placed[1].scale == 14);
}

TEST_CASE("a chain of 2000, hosts after what they carry") {
    List pieces;
    constexpr int count = 2000;
    for (int i = 0; i < count; ++i) {
        const bool last = i + 1 == count;
        pieces.push_back(std::make_shared<const Piece>(
            held_by("p" + std::to_string(i), last ? Support::section : Support::stands_on,
                    last ? "section-a" : "p" + std::to_string(i + 1), {1, 0, 2, 90, 0, 0})));
    }
    const Document document = with_pieces(pieces);
    REQUIRE(validate(document).ok());
    const auto placed = placements(document);
    // Quarter turns are exact, so every fourth piece stands straight over the one four below.
    CHECK(placed[0].frame.origin == glm::dvec3(0, 0, 150 + 2 * count));
    CHECK(placed[count - 1].frame.origin == glm::dvec3(1, 0, 152));
    CHECK(placed[0].frame.rotation == glm::dmat3(1.0));
    CHECK(host_frame(document, *pieces[0]).origin == placed[1].frame.origin);
}

TEST_CASE("rotations stay rigid down a long chain of odd turns") {
    List pieces;
    for (int i = 0; i < 500; ++i)
        pieces.push_back(std::make_shared<const Piece>(
            held_by("p" + std::to_string(i), i == 0 ? Support::none : Support::hangs_from,
                    i == 0 ? "" : "p" + std::to_string(i - 1), {1, 2, 3, 17.3, 5.1, -8.7})));
    const auto placed = placements(with_pieces(pieces));
    const glm::dmat3 product =
        glm::transpose(placed.back().frame.rotation) * placed.back().frame.rotation;
    for (int c = 0; c < 3; ++c)
        for (int r = 0; r < 3; ++r)
            CHECK(std::abs(product[c][r] - (c == r ? 1 : 0)) < 1e-12);
}
