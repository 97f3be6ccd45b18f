// The document made solid: every piece with its mesh, its placement and its box in the scene.
#include "shape/staging.h"

#include <algorithm>
#include <string_view>
#include <unordered_map>
#include <utility>

#include <fmt/format.h>

#include "base/check.h"
#include "shape/staging_hall.h"
#include "shape/staging_mesh.h"

namespace standpoint {

namespace {

constexpr const char* hall_id = "hall";

Box placed_box(const Mesh& mesh, const Placement& placement) {
    std::vector<bool> used(mesh.positions.size(), false);
    for (const glm::uvec3& t : mesh.triangles)
        used[t.x] = used[t.y] = used[t.z] = true;
    Box box;
    for (std::size_t i = 0; i < used.size(); ++i) {
        if (!used[i]) continue;
        box = grown(box, to_outer(placement.frame, placement.scale * mesh.positions[i]));
    }
    return box;
}

bool same_place(const Placement& a, const Placement& b) {
    return a.scale == b.scale && a.frame.origin == b.frame.origin &&
           a.frame.rotation == b.frame.rotation;
}

bool is_left_out(const Piece& piece, StagedFor purpose) {
    return purpose == StagedFor::views ? piece.off != Off::no : piece.off == Off::views_and_checks;
}

// Whether files other than the scene say what it looks like.
bool has_model(const Piece& piece) {
    return std::any_of(piece.parts.begin(), piece.parts.end(), [](const Part& part) {
        const auto* figure = std::get_if<FigureForm>(&part.form);
        return std::holds_alternative<ModelForm>(part.form) ||
               (figure && (figure->skeleton.ends_with(".json") || figure->pose.ends_with(".json")));
    });
}

// What a mesh depends on: the parts, and the kind for their colours.
bool has_same_solid(const Piece& a, const Piece& b) {
    return &a == &b || (a.kind == b.kind && a.parts == b.parts);
}

Status expect_hall_id_free(const Document& document, const std::string& scene_file) {
    const auto look = [&](const auto& items, const char* list, const auto& id_of) -> Status {
        for (std::size_t i = 0; i < items.size(); ++i) {
            if (id_of(items[i]) != hall_id) continue;
            return input_error(fmt::format("{} ({}/{}/id)", scene_file, list, i),
                               "found the id \"hall\", which is that of the hall's walls; expected "
                               "another");
        }
        return Done{};
    };
    const auto own = [](const auto& item) -> const std::string& { return item.id; };
    STANDPOINT_TRY_STATUS(look(*document.pieces, "/pieces",
                               [](const auto& piece) -> const std::string& { return piece->id; }));
    STANDPOINT_TRY_STATUS(look(*document.sections, "/sections", own));
    STANDPOINT_TRY_STATUS(look(document.hall->columns, "/hall/columns", own));
    return look(document.hall->doors, "/hall/doors", own);
}

class Stager {
  public:
    Stager(const Staging& earlier, const Document& document, const std::string& scene_file,
           const FileAccess& files, ModelFiles models)
        : document_(document), scene_file_(scene_file), files_(files), store_(scene_file, files),
          models_(models) {
        for (const StagedPiece& piece : earlier.pieces) {
            earlier_.emplace(piece.id, &piece);
            store_.keep({piece.mesh, piece.mesh_hash});
        }
    }

    Result<Staging> run(StagedFor purpose) {
        STANDPOINT_TRY_STATUS(expect_hall_id_free(document_, scene_file_));
        STANDPOINT_TRY_STATUS(add_pieces(purpose));
        add_sections();
        add_columns();
        STANDPOINT_TRY_STATUS(add_walls());
        STANDPOINT_TRY(figures, figures_for(purpose));
        return Staging{document_, std::move(staged_), std::move(figures)};
    }

  private:
    const StagedPiece* earlier(const std::string& id) const {
        const auto found = earlier_.find(id);
        return found == earlier_.end() ? nullptr : found->second;
    }

    Result<std::shared_ptr<const PlacedFigures>> figures_for(StagedFor purpose) const {
        if (purpose == StagedFor::views) return std::shared_ptr<const PlacedFigures>();
        STANDPOINT_TRY(figures, placed_figures(document_, scene_file_, files_));
        return std::make_shared<const PlacedFigures>(std::move(figures));
    }

    void add(StagedKind kind, const std::string& id, std::shared_ptr<const Piece> piece,
             const Placement& placement, SharedMesh shared) {
        StagedPiece staged{kind,        id, std::move(piece), placement, std::move(shared.mesh),
                           shared.hash, {}};
        const StagedPiece* before = earlier(id);
        const bool unmoved =
            before && before->mesh == staged.mesh && same_place(before->placement, placement);
        staged.box = unmoved ? before->box : placed_box(*staged.mesh, placement);
        staged_.push_back(std::move(staged));
    }

    Status add_pieces(StagedFor purpose) {
        const std::vector<Placement> places = placements(document_);
        for (std::size_t i = 0; i < places.size(); ++i) {
            const std::shared_ptr<const Piece>& piece = (*document_.pieces)[i];
            if (is_left_out(*piece, purpose)) continue;
            const StagedPiece* before = earlier(piece->id);
            // The same parts as before, and no file of them can have changed.
            if (before && before->piece && has_same_solid(*before->piece, *piece) &&
                (models_ == ModelFiles::as_before || !has_model(*piece))) {
                add(StagedKind::piece, piece->id, piece, places[i],
                    {before->mesh, before->mesh_hash});
                continue;
            }
            STANDPOINT_TRY(shared, store_.mesh_of_piece(*piece, i));
            add(StagedKind::piece, piece->id, piece, places[i], shared);
        }
        return Done{};
    }

    void add_sections() {
        for (const Section& section : *document_.sections) {
            const std::string key = fmt::format("section {} {} {}", section.width.mm,
                                                section.depth.mm, section.height.mm);
            Placement placement;
            placement.frame.origin = {section.corner.x.mm, section.corner.y.mm, 0};
            add(StagedKind::section, section.id, nullptr, placement,
                store_.mesh_by_key(key, [&] { return section_mesh(section); }));
        }
    }

    void add_columns() {
        const double ceiling = document_.hall->ceiling.mm;
        if (!(ceiling > 0)) return;
        for (const Column& column : document_.hall->columns) {
            const std::string key = fmt::format("column {} {} {} {}", column.width.mm,
                                                column.depth.mm, column.diameter.mm, ceiling);
            Placement placement;
            placement.frame.origin = {column.centre.x.mm, column.centre.y.mm, 0};
            add(StagedKind::column, column.id, nullptr, placement,
                store_.mesh_by_key(key, [&] { return column_mesh(column, ceiling); }));
        }
    }

    Status add_walls() {
        const Hall& hall = *document_.hall;
        if (!(hall.ceiling.mm > 0)) return Done{};
        STANDPOINT_TRY(sheet, wall_sheet(hall, scene_file_));
        if (sheet.triangles.empty()) return Done{};
        std::string key = "walls";
        for (const glm::uvec3& t : sheet.triangles) {
            for (std::uint32_t corner : {t.x, t.y, t.z}) {
                const glm::dvec3& p = sheet.positions[corner];
                key += fmt::format(" {} {} {}", p.x, p.y, p.z);
            }
        }
        add(StagedKind::hall, hall_id, nullptr, Placement{},
            store_.mesh_by_key(key, [&] { return std::move(sheet); }));
        return Done{};
    }

    const Document& document_;
    const std::string& scene_file_;
    const FileAccess& files_;
    MeshStore store_;
    ModelFiles models_;
    std::unordered_map<std::string_view, const StagedPiece*> earlier_;
    std::vector<StagedPiece> staged_;
};

} // namespace

Result<Staging> stage(const Document& document, const std::string& scene_file,
                      const FileAccess& files, StagedFor purpose) {
    return restage(Staging{}, document, scene_file, files, purpose);
}

Result<Staging> restage(const Staging& earlier, const Document& document,
                        const std::string& scene_file, const FileAccess& files, StagedFor purpose,
                        ModelFiles models) {
    return Stager(earlier, document, scene_file, files, models).run(purpose);
}

glm::dvec3 to_scene(const StagedPiece& piece, const glm::dvec3& original_point) {
    return to_outer(piece.placement.frame, piece.placement.scale * original_point);
}

Triangle scene_triangle(const StagedPiece& piece, std::uint32_t triangle) {
    STANDPOINT_CHECK(triangle < piece.mesh->triangles.size());
    const glm::uvec3 t = piece.mesh->triangles[triangle];
    const std::vector<glm::dvec3>& positions = piece.mesh->positions;
    return {to_scene(piece, positions[t.x]), to_scene(piece, positions[t.y]),
            to_scene(piece, positions[t.z])};
}

const StagedPiece* find_staged(const Staging& staging, std::string_view id) {
    const auto found = std::find_if(staging.pieces.begin(), staging.pieces.end(),
                                    [&](const StagedPiece& piece) { return piece.id == id; });
    return found == staging.pieces.end() ? nullptr : &*found;
}

} // namespace standpoint
