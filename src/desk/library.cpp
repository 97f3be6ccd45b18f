// What can be brought into a scene, and putting it there.
#include "desk/library.h"

#include <algorithm>
#include <filesystem>
#include <system_error>

#include "desk/library_figures.h"
#include "desk/piece_ids.h"
#include "measure/steps.h"

namespace standpoint {

namespace {

std::string beside(const std::string& file, const std::string& name) {
    const std::size_t slash = file.rfind('/');
    const std::string folder = slash == std::string::npos ? "" : file.substr(0, slash + 1);
    return folder + name;
}

bool is_model(const std::string& name) {
    return name.ends_with(".glb") || name.ends_with(".gltf") || name.ends_with(".GLB") ||
           name.ends_with(".GLTF");
}

// "figures/crab_pots.glb" -> "Crab pots".
std::string title_of(const std::string& path) {
    std::string title = std::filesystem::path(path).stem().string();
    for (char& c : title)
        if (c == '-' || c == '_') c = ' ';
    if (!title.empty() && title[0] >= 'a' && title[0] <= 'z')
        title[0] = static_cast<char>(title[0] - 'a' + 'A');
    return title;
}

// Percent escapes are decoded when the name is read.
std::string escaped(const std::string& path) {
    std::string out;
    for (const char c : path)
        out += c == '%' ? std::string("%25") : std::string(1, c);
    return out;
}

Status add_models(const std::string& scene_file, const FolderListing& folders,
                  const std::string& below, int depth, std::vector<LibraryEntry>& entries) {
    const std::string here = beside(scene_file, below);
    STANDPOINT_TRY(names, folders.list(here.empty() ? "." : here));
    for (const FolderEntry& entry : names) {
        const std::string path = below + entry.name;
        if (entry.folder && depth > 0) {
            STANDPOINT_TRY_STATUS(add_models(scene_file, folders, path + "/", depth - 1, entries));
        } else if (!entry.folder && is_model(entry.name) &&
                   path_beside(scene_file, escaped(path)).ok()) {
            entries.push_back(model_entry(path));
        }
    }
    return Done{};
}

// Original sizes that come out near the built ones asked for, in figures a person would write: what
// is drawn up from a round original is round when built.
class Sizes {
  public:
    explicit Sizes(double ratio) : ratio_(ratio) {}
    Length operator()(double built_mm) const {
        const double size = built_mm / ratio_;
        return on_steps(size, size >= 50 ? 5 : size >= 10 ? 1 : finest);
    }
    Length stature(double built_mm) const { return on_steps(built_mm / ratio_, finest); }
    PlanPoint operator()(double x, double y) const { return {at(x), at(y)}; }

  private:
    static constexpr double finest = 0.1;
    static Length on_steps(double size, double step) {
        return size < 1 ? Length(size) : Length(from_steps(steps_of(size, step), step));
    }
    Length at(double built_mm) const {
        return built_mm < 0   ? Length(-(*this)(-built_mm).mm)
               : built_mm > 0 ? (*this)(built_mm)
                              : Length(0.0);
    }
    double ratio_;
};

double ratio_for_kind(const Document& document, PieceKind kind) {
    Piece piece;
    piece.kind = kind;
    return ratio_of(document, piece);
}

void add_round_and_square(const Document& document, std::vector<LibraryEntry>& entries) {
    const Sizes s(ratio_for_kind(document, PieceKind::prop));
    const auto add = [&](const char* name, const char* id, const Form& form) {
        entries.push_back({LibraryKind::primitive, name, id, form, PieceKind::prop});
    };
    add("Box", "box", BoxForm{s(600), s(600), s(600)});
    add("Cylinder", "cylinder", CylinderForm{s(600), s(800)});
    add("Cone", "cone", ConeForm{s(600), 0, s(800)});
    add("Ball", "ball", SphereForm{s(500)});
    add("Capsule", "capsule", CapsuleForm{s(400), s(1200)});
    add("Raised outline", "outline",
        ExtrusionForm{{s(-500, -400), s(500, -400), s(500, 0), s(0, 0), s(0, 400), s(-500, 400)},
                      s(400)});
    add("Turned profile", "turning",
        TurningForm{{s(250, 0), s(250, 100), s(120, 180), s(120, 600), s(200, 700), s(200, 800)}});
}

void add_built_things(const Document& document, std::vector<LibraryEntry>& entries) {
    const auto add = [&](const char* name, const char* id, const Form& form, PieceKind kind) {
        entries.push_back({LibraryKind::primitive, name, id, form, kind});
    };
    const Sizes s(ratio_for_kind(document, PieceKind::setting));
    add("Stairs", "stairs", StairsForm{s(900), s(280), s(170), 4}, PieceKind::setting);
    const Sizes b(ratio_for_kind(document, PieceKind::barrier));
    add("Fence", "fence",
        FenceForm{{b(-1000, 0), b(1000, 0)}, b(1000), b(60), b(1000), {b(500), b(950)}, b(30), 0},
        PieceKind::barrier);
    const Length wide = s(2400), opening = s(900);
    const Length beside((wide.mm - opening.mm) / 2);
    add("Wall", "wall", WallForm{wide, s(120), s(2200), {{beside, s(900), opening, s(900)}}},
        PieceKind::setting);
    const Sizes g(ratio_for_kind(document, PieceKind::ground));
    add("Terrain", "terrain",
        TerrainForm{g(2000),
                    g(1500),
                    3,
                    3,
                    {g(100), g(100), g(100), g(100), g(250), g(150), g(200), g(300), g(200)}},
        PieceKind::ground);
}

void add_figures(const Document& document, std::vector<LibraryEntry>& entries) {
    const Sizes s(ratio_for_kind(document, PieceKind::figure));
    for (const FigureChoice& choice : figure_choices()) {
        FigureForm form;
        form.skeleton = choice.skeleton;
        form.pose = choice.pose;
        form.stature = s.stature(choice.stature_mm);
        entries.push_back({LibraryKind::figure, title_of(choice.skeleton),
                           unique_id({}, choice.skeleton), form, PieceKind::figure});
    }
}

} // namespace

LibraryEntry model_entry(const std::string& path) {
    const std::string stem = std::filesystem::path(path).stem().string();
    return {LibraryKind::model, title_of(path), unique_id({}, stem),
            ModelForm{escaped(path), Length(1000.0)}, PieceKind::prop};
}

Result<std::vector<FolderEntry>> DiskFolders::list(const std::string& folder) const {
    std::vector<FolderEntry> entries;
    std::error_code error;
    if (!std::filesystem::exists(folder, error)) return entries;
    std::filesystem::directory_iterator at(folder, error);
    for (; !error && at != std::filesystem::directory_iterator(); at.increment(error)) {
        const std::string name = at->path().filename().string();
        std::error_code gone; // a link to nowhere is neither
        if (name.starts_with('.')) continue;
        if (at->is_directory(gone) && !at->is_symlink(gone))
            entries.push_back({name, true});
        else if (at->is_regular_file(gone))
            entries.push_back({name, false});
    }
    if (error) return io_error(folder, "cannot look into the folder: " + error.message());
    std::sort(entries.begin(), entries.end(),
              [](const FolderEntry& a, const FolderEntry& b) { return a.name < b.name; });
    return entries;
}

Result<std::vector<LibraryEntry>>
library_of(const Document& document, const std::string& scene_file, const FolderListing& folders) {
    std::vector<LibraryEntry> entries;
    constexpr int folders_deep = 2;
    if (!scene_file.empty())
        STANDPOINT_TRY_STATUS(add_models(scene_file, folders, "", folders_deep, entries));
    add_round_and_square(document, entries);
    add_built_things(document, entries);
    add_figures(document, entries);
    return entries;
}

Piece new_piece(const LibraryEntry& entry, const Document& document) {
    Piece piece;
    piece.id = unique_id(taken_ids(document), entry.id);
    piece.name = numbered_name(taken_names(document), entry.name);
    piece.kind = entry.piece_kind;
    Part part;
    part.form = entry.form;
    piece.parts = {part};
    return piece;
}

Result<Edit> add_piece(const Document& document, const Staging& staging, const RayIndex& index,
                       Piece piece, const glm::dvec3& onto, Rounding rounding) {
    piece.id = unique_id(taken_ids(document), piece.id);
    const Beneath under = beneath(document, staging, index, {}, onto);
    piece.support = under.support;
    piece.host = under.host;
    const Frame turned{rotation_of(piece.at.facing.deg, piece.at.tilt.deg, piece.at.roll.deg),
                       {onto.x, onto.y, under.height}};
    piece.at = pose_in(host_frame(document, piece), turned, piece.at, rounding);
    std::string label = "Add " + spoken(piece);
    return Edit(std::move(label), PutPiece{static_cast<int>(document.pieces->size()),
                                           std::make_shared<const Piece>(std::move(piece))});
}

} // namespace standpoint
