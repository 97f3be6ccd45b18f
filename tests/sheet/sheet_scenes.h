// Scenes and pages that the sheet tests share.
#pragma once

#include <doctest/doctest.h>

#include <array>
#include <cstdio>
#include <fstream>
#include <string>

#include "sheet/sheets.h"
#include "support/scenes.h"

namespace standpoint::support {

inline Staging staged(const Document& document) {
    Result<Staging> staging =
        stage(document, "low-water.scene.json", MemoryFiles(), StagedFor::checks);
    REQUIRE_MESSAGE(staging.ok(), (staging.ok() ? "" : one_line(staging.error())));
    return std::move(staging).value();
}

inline Document with_settings(Document document, Settings settings) {
    document.settings = std::make_shared<const Settings>(std::move(settings));
    return document;
}

inline Document with_points(Document document, std::vector<ReferencePoint> points) {
    document.reference_points =
        std::make_shared<const std::vector<ReferencePoint>>(std::move(points));
    return document;
}

// A jetty on section A, a lantern that hangs from it, a crate turned by 30 degrees on the floor.
inline Document landing() {
    Document document = bare_scene();
    Settings settings = *document.settings;
    settings.title = "Low Water";
    settings.date = "2026-11-25";
    settings.course = Length(96);
    document = with_settings(document, settings);
    document = with_points(document, {{"R1", "left front corner of section A", {0, 0, 0}},
                                      {"R2", "right front corner of section A", {3000, 0, 0}},
                                      {"R3", "right back corner of section A", {3000, 1800, 0}}});
    Piece jetty = box_piece("jetty", 1500, 900, 0, 1200, 600, 400);
    jetty.kind = PieceKind::setting;
    jetty.support = Support::section;
    jetty.host = "section-a";
    jetty.at.facing = 90;
    Piece lantern = box_piece("lantern", 100, 200, 300, 80, 80, 100);
    lantern.support = Support::hangs_from;
    lantern.host = "jetty";
    Piece crate = box_piece("crate", 3500, 2500, 0, 500, 400, 300);
    crate.at.facing = 30;
    crate.marks = {{"left heel", {250, -200, 0}}, {"right heel", {-250, -200, 0}}};
    return with_piece(with_piece(with_piece(document, jetty), lantern), crate);
}

inline std::string csv_of(const Staging& staging) {
    StringSink sink;
    REQUIRE(write_placements_csv(staging, placement_rows(staging), sink).ok());
    return sink.bytes;
}

inline std::string pdf_of(const Staging& staging, const CheckResults& results = {}) {
    StringSink sink;
    const Status status =
        write_sheets_pdf(staging, placement_rows(staging), results, sink, Progress{});
    REQUIRE_MESSAGE(status.ok(), (status.ok() ? "" : one_line(status.error())));
    return sink.bytes;
}

// Writes the bytes beside the build and returns what a command prints about the file.
inline std::string asked(const std::string& bytes, const std::string& before,
                         const std::string& after) {
    const std::string file = STANDPOINT_BINARY_DIR "/sheet_test.pdf";
    std::ofstream(file, std::ios::binary) << bytes;
    std::FILE* pipe = popen((before + " '" + file + "' " + after + " 2>&1").c_str(), "r");
    REQUIRE(pipe != nullptr);
    std::string out;
    std::array<char, 4096> part{};
    while (const std::size_t count = std::fread(part.data(), 1, part.size(), pipe))
        out.append(part.data(), count);
    CHECK(pclose(pipe) == 0);
    return out;
}

} // namespace standpoint::support
