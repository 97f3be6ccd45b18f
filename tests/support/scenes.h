// Small documents for tests, built in code.
#pragma once

#include <memory>
#include <string>
#include <utility>

#include "scene/document.h"

namespace standpoint::support {

inline PlanPoint plan(double x, double y) {
    return {x, y};
}

// A hall, one section of 3.0 x 1.8 m with its deck at 150 mm, a straight path of 6 m in front of
// it along y = -1500 from x = -1000 to 5000, 2 m wide, and one standing visitor, eyes at 1600 mm.
inline Document bare_scene() {
    Document document = empty_document();
    Hall hall;
    hall.outline = {plan(-4000, -4000), plan(8000, -4000), plan(8000, 5000), plan(-4000, 5000)};
    hall.ceiling = 3600;
    document.hall = std::make_shared<const Hall>(hall);
    const Section section{"section-a", "A", plan(0, 0), 3000, 1800, 150};
    document.sections = std::make_shared<const std::vector<Section>>(1, section);
    const Path path{{plan(-1000, -1500), plan(5000, -1500)}, 2000};
    document.path = std::make_shared<const Path>(path);
    Visitor visitor;
    visitor.id = "standing";
    visitor.name = "standing visitor";
    visitor.eye_height = 1600;
    visitor.crown = 1710;
    visitor.setback = 150;
    visitor.share = 1;
    document.visitors = std::make_shared<const std::vector<Visitor>>(1, visitor);
    return document;
}

inline Document with_piece(Document document, Piece piece) {
    auto pieces = *document.pieces;
    pieces.push_back(std::make_shared<const Piece>(std::move(piece)));
    document.pieces =
        std::make_shared<const std::vector<std::shared_ptr<const Piece>>>(std::move(pieces));
    return document;
}

inline Document with_target(Document document, Target target) {
    auto targets = *document.targets;
    targets.push_back(std::make_shared<const Target>(std::move(target)));
    document.targets =
        std::make_shared<const std::vector<std::shared_ptr<const Target>>>(std::move(targets));
    return document;
}

// One box at built size (ratio 1) on the hall floor: the middle of its foot at x, y, z; mm.
inline Piece box_piece(const std::string& id, double x, double y, double z, double width,
                       double depth, double height) {
    Piece piece;
    piece.id = id;
    piece.name = id;
    piece.at = {x, y, z, 0, 0, 0};
    piece.ratio = 1;
    Part part;
    part.name = "body";
    part.form = BoxForm{width, depth, height};
    piece.parts = {part};
    return piece;
}

// A figure at built size (ratio 1) on the hall floor, as its skeleton comes.
inline Piece figure_piece(const std::string& id, double x, double y, double facing,
                          const std::string& pose = "") {
    Piece piece;
    piece.id = id;
    piece.kind = PieceKind::figure;
    piece.at = {x, y, 0, facing, 0, 0};
    piece.ratio = 1;
    FigureForm form;
    form.skeleton = "adult";
    form.pose = pose;
    Part part;
    part.name = "body";
    part.form = form;
    piece.parts = {part};
    return piece;
}

} // namespace standpoint::support
