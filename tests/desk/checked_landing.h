// A small landing with something to see, something to hide and something in the way, and what the
// checks say of it.
#pragma once

#include <doctest/doctest.h>

#include <map>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "desk/check_steps.h"
#include "support/scenes.h"

namespace standpoint::support {

inline Target see_target(const std::string& id, const std::string& piece) {
    Target target;
    target.id = id;
    target.name = "The " + id;
    target.piece = piece;
    target.patch.parts = {"body"};
    return target;
}

inline Visitor visitor_of_height(const std::string& id, double eye_height, double share) {
    Visitor visitor;
    visitor.id = id;
    visitor.name = id;
    visitor.eye_height = eye_height;
    visitor.crown = eye_height + 110;
    visitor.setback = 150;
    visitor.share = share;
    return visitor;
}

inline Document with_visitors(Document document, std::vector<Visitor> visitors) {
    document.visitors = std::make_shared<const std::vector<Visitor>>(std::move(visitors));
    return document;
}

inline Document without_piece(Document document, const std::string& id) {
    auto pieces = *document.pieces;
    std::erase_if(pieces, [&](const auto& piece) { return piece->id == id; });
    document.pieces =
        std::make_shared<const std::vector<std::shared_ptr<const Piece>>>(std::move(pieces));
    return document;
}

inline Document with_width(Document document, double width) {
    Path path = *document.path;
    path.width = width;
    document.path = std::make_shared<const Path>(path);
    return document;
}

// A sign behind a fence that stands before half of it, a pump behind a tall screen, and a bollard
// on the path. Adults are three quarters of the visitors, children one.
inline Document checked_landing() {
    Document document = bare_scene();
    document = with_visitors(
        document, {visitor_of_height("adult", 1600, 0.75), visitor_of_height("child", 1000, 0.25)});
    document = with_piece(document, box_piece("sign", 1500, 1500, 150, 600, 20, 800));
    document = with_piece(document, box_piece("fence", 1200, 700, 150, 900, 20, 700));
    document = with_piece(document, box_piece("pump", 2700, 1600, 150, 150, 150, 300));
    document = with_piece(document, box_piece("screen", 2700, 1300, 150, 900, 20, 900));
    document = with_piece(document, box_piece("bollard", 3000, -2000, 0, 200, 200, 900));
    Target pump = see_target("pump-hidden", "pump");
    pump.aim = Aim::hide;
    return with_target(with_target(document, see_target("sign-read", "sign")), pump);
}

inline SightOptions few_samples() {
    SightOptions options;
    options.replicates = 3;
    options.per_replicate = options.least_between = options.most_per_replicate = 12;
    return options;
}

// Every outcome that a run hands over, by level; few samples throughout.
inline std::vector<CheckOutcome> outcomes_of(const Document& document, std::uint64_t revision = 1,
                                             const SightOptions& full = few_samples()) {
    CheckRun run;
    run.document = document;
    run.scene_file = "low-water.scene.json";
    run.revision = revision;
    run.threads = 2;
    run.rough = few_samples();
    run.rough.per_replicate = run.rough.least_between = run.rough.most_per_replicate = 4;
    run.full = full;
    std::vector<CheckOutcome> out;
    run_check_steps(run, MemoryFiles(), {},
                    [&](CheckOutcome outcome) { out.push_back(std::move(outcome)); });
    REQUIRE(!out.empty());
    return out;
}

inline CheckOutcome outcome_of(const Document& document) {
    return outcomes_of(document).back();
}

} // namespace standpoint::support
