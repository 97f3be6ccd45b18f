// The library, and what comes out of it into a scene.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <map>

#include "desk/arranged.h"
#include "desk/library.h"
#include "scene/json.h"
#include "support/temporary_folder.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

class MemoryFolders : public FolderListing {
  public:
    std::map<std::string, std::vector<FolderEntry>> folders;
    Result<std::vector<FolderEntry>> list(const std::string& folder) const override {
        const auto found = folders.find(folder);
        if (found == folders.end()) return io_error(folder, "not there");
        return found->second;
    }
};

const std::string models = STANDPOINT_SOURCE_DIR "/assets-demo/models/";

std::vector<std::string> model_files(const std::vector<LibraryEntry>& entries) {
    std::vector<std::string> files;
    for (const LibraryEntry& entry : entries)
        if (entry.kind == LibraryKind::model) files.push_back(std::get<ModelForm>(entry.form).file);
    return files;
}

} // namespace

TEST_CASE("models are found beside the scene and two folders deep, no deeper") {
    MemoryFolders folders;
    folders.folders["shop/"] = {{"a.glb", false}, {"models", true}, {"notes.txt", false}};
    folders.folders["shop/models/"] = {{"boat.gltf", false}, {"deep", true}, {"slats.png", false}};
    folders.folders["shop/models/deep/"] = {{"crab_pots 50%.glb", false}, {"deeper", true}};
    const auto entries = library_of(bare_scene(), "shop/ferry.json", folders);
    REQUIRE(entries.ok());
    CHECK(model_files(*entries) ==
          std::vector<std::string>{"a.glb", "models/boat.gltf", "models/deep/crab_pots 50%25.glb"});
    CHECK((*entries)[2].name == "Crab pots 50%");
    CHECK((*entries)[2].id == "crab-pots-50");
    CHECK(model_files(*library_of(bare_scene(), "", folders)).empty());
    folders.folders.erase("shop/models/");
    CHECK_FALSE(library_of(bare_scene(), "shop/ferry.json", folders).ok());
}

TEST_CASE("the disk lists files and folders by name, without hidden ones") {
    const TemporaryFolder folder;
    write_plain(folder.file("b.glb"), "");
    write_plain(folder.file("a.glb"), "");
    write_plain(folder.file(".hidden.glb"), "");
    std::filesystem::create_directory(folder.file("c"));
    const auto entries = DiskFolders().list(folder.path());
    REQUIRE(entries.ok());
    REQUIRE(entries->size() == 3);
    CHECK((*entries)[0].name == "a.glb");
    CHECK((*entries)[1].name == "b.glb");
    CHECK((*entries)[2].folder);
    CHECK(DiskFolders().list(folder.file("nowhere"))->empty());
    CHECK_FALSE(DiskFolders().list(folder.file("a.glb")).ok());
}

TEST_CASE("every primitive and figure of the library comes into the scene at a believable size") {
    for (const double ratio : {1.0, 12.0, 87.0}) {
        Document document = bare_scene();
        Settings settings = *document.settings;
        settings.setting_ratio = ratio;
        settings.figure_ratio = ratio;
        document.settings = std::make_shared<const Settings>(settings);
        const Staging staging = staged_boxes(document);
        const auto index = make_ray_index(staging);
        const auto entries = library_of(document, "", MemoryFolders());
        REQUIRE(entries.ok());
        std::size_t primitives = 0, figures = 0;
        for (const LibraryEntry& entry : *entries) {
            primitives += entry.kind == LibraryKind::primitive;
            figures += entry.kind == LibraryKind::figure;
            const Document after =
                done(document, add_piece(document, staging, *index, new_piece(entry, document),
                                         {1500, 900, 4000}));
            const Piece& piece = *after.pieces->back();
            CHECK(piece.support == Support::section);
            CHECK(piece.host == "section-a");
            CHECK(piece.at.z.mm == 0);
            const Staging solid = staged_boxes(after);
            const Box box = find_staged(solid, piece.id)->box;
            CHECK_MESSAGE(box.size().z > 200, entry.name);
            CHECK_MESSAGE(box.size().z < 2600, entry.name);
            // A figure's skin ends where its soles press on the ground; see the figures' own tests.
            const double near_mm = entry.kind == LibraryKind::figure ? 15 : 1;
            CHECK_MESSAGE(std::abs(box.low.z - 150) < near_mm, entry.name << " " << box.low.z);
        }
        CHECK(primitives == 11);
        CHECK(figures >= 1);
    }
}

TEST_CASE("a wall from the library has a round original, and its opening in the middle") {
    Document document = bare_scene();
    Settings settings = *document.settings;
    settings.setting_ratio = 12;
    document.settings = std::make_shared<const Settings>(settings);
    const auto entries = library_of(document, "", MemoryFolders());
    REQUIRE(entries.ok());
    const auto found = std::find_if(entries->begin(), entries->end(),
                                    [](const LibraryEntry& entry) { return entry.id == "wall"; });
    REQUIRE(found != entries->end());
    const WallForm& wall = std::get<WallForm>(found->form);
    CHECK(wall.width.mm == 200);
    CHECK(wall.height.mm == 185); // 2220 built
    CHECK(wall.thickness.mm == 10);
    REQUIRE(wall.openings.size() == 1);
    const WallOpening& opening = wall.openings.front();
    CHECK(opening.from_left.mm * 2 + opening.width.mm == wall.width.mm);
}

TEST_CASE("what is added stands on what lies beneath, under a name of its own") {
    Piece table = box_piece("table", 1000, 3000, 0, 800, 600, 700);
    table.at.facing = 25;
    Document document = with_piece(bare_scene(), table);
    const auto entries = library_of(document, "", MemoryFolders());
    REQUIRE(entries.ok());
    const LibraryEntry& box = entries->front();
    for (int i = 0; i < 3; ++i) {
        const Staging staging = staged_boxes(document);
        const auto index = make_ray_index(staging);
        document = done(document, add_piece(document, staging, *index, new_piece(box, document),
                                            {1000, 3000, 700 + 600.0 * i}, Rounding::exact));
    }
    CHECK(find_piece(document, "box")->host == "table");
    CHECK(find_piece(document, "box-2")->host == "box");
    CHECK(find_piece(document, "box-3")->name == "Box 3");
    CHECK(apart(frame_of(document, "box-3"), Frame{glm::dmat3(1.0), {1000, 3000, 1900}}) < 1e-3);
}

TEST_CASE("a model from elsewhere is copied with what it refers to, and once only") {
    const TemporaryFolder folder;
    const std::string scene = folder.file("ferry.json");
    const auto entry = bring_in(models + "crab-pots.gltf", scene, DiskFiles());
    REQUIRE_MESSAGE(entry.ok(), (entry.ok() ? "" : one_line(entry.error())));
    CHECK(std::get<ModelForm>(entry->form).file == "models/crab-pots.gltf");
    CHECK(entry->name == "Crab pots");
    for (const char* name : {"crab-pots.gltf", "crab-pots.bin", "net.png"})
        CHECK(read_plain(folder.file(std::string("models/") + name)) == read_plain(models + name));
    const auto again = bring_in(models + "crab-pots.gltf", scene, DiskFiles());
    REQUIRE(again.ok());
    CHECK(std::get<ModelForm>(again->form).file == "models/crab-pots.gltf");
    const auto inside = bring_in(folder.file("models/crab-pots.gltf"), scene, DiskFiles());
    REQUIRE(inside.ok());
    CHECK(std::get<ModelForm>(inside->form).file == "models/crab-pots.gltf");
    const Document document = with_piece(bare_scene(), new_piece(*entry, bare_scene()));
    CHECK(stage(document, scene, DiskFiles(), StagedFor::views).ok());
}

TEST_CASE("a model never writes over another file of its name") {
    const TemporaryFolder folder;
    const std::string scene = folder.file("ferry.json");
    std::filesystem::create_directory(folder.file("models"));
    write_plain(folder.file("models/boat.glb"), "other");
    write_plain(folder.file("models/net.png"), "other");
    const auto boat = bring_in(models + "boat.glb", scene, DiskFiles());
    REQUIRE(boat.ok());
    CHECK(std::get<ModelForm>(boat->form).file == "models/boat-2.glb");
    CHECK(read_plain(folder.file("models/boat-2.glb")) == read_plain(models + "boat.glb"));
    const auto pots = bring_in(models + "crab-pots.gltf", scene, DiskFiles());
    REQUIRE(pots.ok());
    CHECK(std::get<ModelForm>(pots->form).file == "models/crab-pots-2/crab-pots.gltf");
    CHECK(read_plain(folder.file("models/boat.glb")) == "other");
    CHECK(read_plain(folder.file("models/net.png")) == "other");
}

TEST_CASE("what is no model, or has nowhere to go, is refused and leaves nothing") {
    const TemporaryFolder folder;
    const std::string scene = folder.file("ferry.json");
    write_plain(folder.file("words.glb"), "no model");
    CHECK_FALSE(bring_in(folder.file("words.glb"), scene, DiskFiles()).ok());
    CHECK_FALSE(bring_in(models + "nowhere.glb", scene, DiskFiles()).ok());
    CHECK_FALSE(bring_in(models + "boat.glb", "", DiskFiles()).ok());
    CHECK(folder.names() == std::set<std::string>{"words.glb"});
}
