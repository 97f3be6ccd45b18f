// What the tests of arranging share: scenes of boxes that carry each other, and places in the
// scene.
#pragma once

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <string>
#include <vector>

#include <glm/geometric.hpp>

#include "desk/piece_ids.h"
#include "figure/placement.h"
#include "scene/edit.h"
#include "scene/history.h"
#include "shape/ray_index.h"
#include "shape/staging.h"
#include "support/random.h"
#include "support/scenes.h"

namespace standpoint::support {

inline Staging staged_boxes(const Document& document) {
    Result<Staging> staging = stage(document, "scene.json", MemoryFiles(), StagedFor::views);
    REQUIRE(staging.ok());
    return std::move(*staging);
}

struct Indexed { // a scene with what the editing logic looks up in it
    Document document;
    Staging staging;
    std::unique_ptr<RayIndex> index;

    explicit Indexed(const Document& given)
        : document(given), staging(staged_boxes(given)), index(make_ray_index(staging)) {}
    Indexed(const Indexed&) = delete;
    Indexed& operator=(const Indexed&) = delete;
};

inline Placement placement_of(const Document& document, const std::string& id) {
    const auto placed = placements(document);
    for (std::size_t i = 0; i < placed.size(); ++i)
        if ((*document.pieces)[i]->id == id) return placed[i];
    FAIL("no piece " << id);
    return {};
}
inline Frame frame_of(const Document& document, const std::string& id) {
    return placement_of(document, id).frame;
}

// The largest distance that any point within a metre of the origin is off between two frames.
inline double apart(const Frame& a, const Frame& b) {
    double most = glm::distance(a.origin, b.origin);
    for (int i = 0; i < 3; ++i)
        most = std::max(most, 1000 * glm::distance(a.rotation[i], b.rotation[i]));
    return most;
}

// Applies an edit and checks what holds of every one: the result is valid, and undo gives the
// document from before.
inline Document done(const Document& document, const Result<Edit>& edit) {
    REQUIRE_MESSAGE(edit.ok(), (edit.ok() ? "" : one_line(edit.error())));
    CHECK_FALSE(edit->label.empty());
    const Result<Document> after = apply(document, *edit);
    REQUIRE_MESSAGE(after.ok(), (after.ok() ? "" : one_line(after.error())));
    CHECK(validate(*after).ok());
    History history(document);
    REQUIRE(history.perform(*edit).ok());
    CHECK(same_content(history.now(), *after));
    CHECK(history.undo());
    CHECK(same_content(history.now(), document));
    return *after;
}

// Boxes on the floor, on the section and on each other, turned in every way when `tilted`.
inline Document random_boxes(Random& random, int count, bool tilted) {
    Document document = bare_scene();
    for (int i = 0; i < count; ++i) {
        const auto number = [&](double low, double high) { return random.uniform(low, high); };
        Piece piece =
            box_piece("box-" + std::to_string(i), number(-2000, 4000), number(-1500, 2500),
                      number(0, 300), number(50, 600), number(50, 600), number(50, 600));
        piece.at.facing = number(0, 360);
        if (tilted) {
            piece.at.tilt = number(-80, 80);
            piece.at.roll = number(-170, 170);
        }
        const auto how = random.integer(0, i == 0 ? 1 : 3);
        piece.support = static_cast<Support>(how);
        if (how == 1) piece.host = "section-a";
        if (how > 1) piece.host = "box-" + std::to_string(random.integer(0, i - 1));
        document = with_piece(document, piece);
    }
    return document;
}

// One to `most` different ids.
inline Ids random_ids(Random& random, const Document& document, int most) {
    Ids ids;
    for (const auto& piece : *document.pieces)
        ids.push_back(piece->id);
    for (std::size_t i = ids.size(); i > 1; --i)
        std::swap(ids[i - 1], ids[static_cast<std::size_t>(random.integer(0, i - 1))]);
    ids.resize(std::min(ids.size(), static_cast<std::size_t>(random.integer(1, most))));
    return ids;
}

inline bool holds(const Ids& ids, const std::string& id) {
    return std::find(ids.begin(), ids.end(), id) != ids.end();
}

} // namespace standpoint::support
