// A scene of a few pieces open in the window, with some of them picked.
#pragma once

#include <fstream>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "hand.h"
#include "scene/json.h"
#include "support/scenes.h"
#include "support/temporary_folder.h"
#include "window/actions.h"
#include "window/answers.h"

namespace standpoint::support {

inline Piece seller() {
    Piece piece;
    piece.id = "seller";
    piece.name = "Tea seller";
    piece.kind = PieceKind::figure;
    piece.at = {1200, 800, 0, 0, 0, 0};
    piece.ratio = 1;
    FigureForm form;
    form.skeleton = "display"; // the quickest to be made solid
    Part part;
    part.name = "body";
    part.form = form;
    piece.parts = {part};
    return piece;
}

inline Document stall() {
    Document document = bare_scene();
    document = with_piece(document, seller());
    document = with_piece(document, box_piece("crate", 600, 2600, 0, 500, 500, 400));
    document = with_piece(document, box_piece("barrel", 2100, 2900, 100, 400, 400, 900));
    return with_piece(document, box_piece("chest", 4000, 2700, 50, 600, 400, 300));
}

// A tall screen, so that the whole panel is on it.
struct Sitting {
    TemporaryFolder folder;
    Hand hand{1440, 3000};

    explicit Sitting(const std::vector<std::string>& picked, const Document& document = stall()) {
        const std::string file = folder.path() + "/stall.scene.json";
        std::ofstream(file) << write_document(document);
        hand.shell.settings.scene_height = 110; // all of the scene panel as well
        open_file(hand.shell, file);
        CAPTURE(hand.shell.message);
        REQUIRE(hand.shell.desk);
        for (const std::string& id : picked)
            select_toggle(*hand.shell.desk, id);
        hand.frame(3);
    }
    const Document& now() const { return hand.shell.desk->history.now(); }
    const Piece& piece(const std::string& id) const {
        const Piece* found = find_piece(now(), id);
        REQUIRE(found);
        return *found;
    }
    const FigureForm& figure() const { return std::get<FigureForm>(piece("seller").parts[0].form); }
    std::size_t steps() const { return hand.shell.desk->history.steps(); }
    void type(const std::string& field, const std::string& text) {
        CAPTURE(field);
        hand.click(field);
        hand.key("Ctrl+A");
        if (text.empty())
            hand.key("Delete");
        else
            hand.type(text);
        hand.key("Enter");
        hand.frame();
    }
    // Refused: said in words, the text stays in the field, and the scene is as it was.
    void refuses(const std::string& field, const std::string& text) {
        CAPTURE(field);
        CAPTURE(text);
        const std::size_t before = steps();
        const std::string scene = write_document(now());
        type(field, text);
        CHECK(hand.shell.message_is_error);
        CHECK(hand.shell.panels.wrong.name == field);
        CHECK(hand.shell.panels.wrong.text == text);
        CHECK(hand.shell.panels.wrong.message.find("expected") != std::string::npos);
        CHECK(steps() == before);
        CHECK((write_document(now()) == scene));
    }
    void one_step(std::size_t before) {
        CHECK(steps() == before + 1);
        CHECK_FALSE(hand.shell.message_is_error);
        CHECK(hand.shell.panels.wrong.name.empty());
    }
};

} // namespace standpoint::support
