// What the side panels remember from frame to frame that is of no scene.
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <glm/vec3.hpp>

#include "desk/contact_fields.h"
#include "desk/figure_fields.h"
#include "desk/library_shelf.h"

namespace standpoint {

// What was typed into a field and could not be taken; it stays there until it is put right, the
// scene changes or another piece is picked.
struct WrongField {
    std::string name, text, message; // name empty: none
    std::uint64_t revision = 0;
    std::vector<std::string> picked;
};

// Of the piece in the panel, worked out when it becomes another.
struct PieceFacts {
    std::shared_ptr<const Piece> piece; // null: nothing worked out
    std::optional<HeldFigure> figure;
    std::string figure_problem;
    std::vector<JointGroup> joints;
    std::optional<ContactRows> contacts;
    std::pair<std::string, std::uint64_t> contacts_of; // piece and revision they were read for
    std::shared_ptr<const Mesh> mesh;                  // as shown; null: switched off
    glm::dvec3 original{0.0};                          // its size, mm
    std::string id;                                    // of the piece `part` was chosen for
    std::optional<std::size_t> part;                   // nothing: all of them
};

// A slider that is held: one undo step from press to release.
struct HeldSlider {
    std::string name;                   // empty: none is held
    int frames = 0;                     // since it was pressed
    std::optional<double> wanted, done; // where the hand is, and where the scene is
};

struct LibraryImage {
    unsigned texture = 0; // 0: none
    std::string problem;
};

enum class PanelOf { scene, piece, figure, several };

struct PanelState {
    PanelOf shows = PanelOf::scene; // in the piece panel, in the frame before
    int scrolled_to = -1;           // finding whose row the list was moved to last
    std::uint64_t findings_of = 0;  // revision the list of findings was scrolled for
    WrongField wrong;
    PieceFacts facts;
    HeldSlider slider;
    std::string touching;                       // contact that something to touch is chosen for
    std::string piece_search;                   // in a list of pieces that is open
    std::map<std::string, bool> folds;          // open or not, by tag
    std::unique_ptr<LibraryShelf> shelf;        // null: the library shows sketches
    std::string shelf_of;                       // scene file its pictures were asked for
    std::size_t shelf_count = 0;                // and how many entries there were
    std::map<std::string, LibraryImage> images; // by picture_key
    unsigned (*upload)(const Image&) = nullptr; // makes a texture; null: no display
};

} // namespace standpoint
