// The meshes of pieces: parts put together, coloured, named, and told apart by content.
#include "shape/staging_mesh.h"

#include <bit>
#include <optional>
#include <variant>
#include <vector>

#include <fmt/format.h>

#include "base/hash.h"
#include "measure/frame.h"
#include "scene/fields.h"
#include "shape/figure_mesh.h"
#include "shape/gltf_read.h"
#include "shape/primitives.h"

namespace standpoint {

namespace {

// Walks the same tables as the scene file does, so that no field of a part is forgotten.
class ContentHash {
  public:
    std::uint64_t value() const { return value_; }

    void add_word(std::uint64_t word) { value_ = mix(value_ ^ mix(word)); }

    void add(double number) { add_word(std::bit_cast<std::uint64_t>(number + 0.0)); } // -0 is 0
    void add(int number) { add_word(static_cast<std::uint64_t>(number)); }
    void add(const Length& length) { add(length.mm); }
    void add(const Angle& angle) { add(angle.deg); }
    void add(const Number& number) { add(number.value); }
    void add(const std::string& text) {
        add_word(text.size());
        add_word(hash_bytes(text));
    }
    template <class T> void add(const std::vector<T>& items) {
        add_word(items.size());
        for (const T& item : items)
            add(item);
    }
    template <class T> void add(const std::optional<T>& item) {
        add_word(item.has_value() ? 1 : 0);
        if (item) add(*item);
    }
    void add(const PlanPoint& point) {
        add(point.x);
        add(point.y);
    }
    template <class... Forms> void add(const std::variant<Forms...>& form) {
        add_word(form.index());
        std::visit([&](const auto& held) { add(held); }, form);
    }
    template <Described T> void add(const T& item) {
        each_field<T>([&](const auto& field) {
            add(item.*(field.member));
            return true;
        });
    }

  private:
    std::uint64_t value_ = hash_bytes("part");
};

bool takes_default_colour(const Part& part) {
    return part.colour.empty() && !std::holds_alternative<ModelForm>(part.form);
}

std::optional<int> hex_digit(char c) {
    if (c >= '0' && c <= '9') return c - '0';
    if (c >= 'a' && c <= 'f') return c - 'a' + 10;
    if (c >= 'A' && c <= 'F') return c - 'A' + 10;
    return std::nullopt;
}

} // namespace

std::uint64_t hash_of_key(std::string_view key) {
    return mix(hash_bytes(key));
}

Result<glm::vec4> parse_colour(std::string_view text) {
    glm::vec4 colour(1.0f);
    bool good = text.size() == 7 && text[0] == '#';
    for (std::size_t i = 0; good && i < 3; ++i) {
        const auto high = hex_digit(text[1 + 2 * i]), low = hex_digit(text[2 + 2 * i]);
        good = high && low;
        if (good) {
            colour[static_cast<int>(i)] =
                linear_of_srgb(static_cast<std::uint8_t>(*high * 16 + *low));
        }
    }
    if (!good) {
        return input_error("", fmt::format("found colour \"{}\", expected #rrggbb", text));
    }
    return colour;
}

glm::vec4 default_colour(PieceKind kind) {
    // Earth and weather, apart in lightness as well as in hue.
    constexpr const char* colours[] = {
        "#b06f55", // figure: clay
        "#5f8270", // prop: sage
        "#8b97a6", // setting: slate
        "#c0ad88", // ground: sand
        "#6b3f3a", // barrier: oxide
        "#e3c667", // lamp: straw
        "#b4d0dc", // effect: mist
    };
    return *parse_colour(colours[static_cast<std::size_t>(kind)]);
}

Error MeshStore::placed_error(const Error& error, const Piece& piece, std::size_t index,
                              std::size_t part) const {
    Error placed = error;
    placed.where = fmt::format("{} (/pieces/{}/parts/{})", scene_file_, index, part);
    placed.message = fmt::format("piece \"{}\": {}", piece.id, one_line(error));
    return placed;
}

// Every error about a model file has the file in `where`.
Result<std::uint64_t> MeshStore::model_hash(const ModelForm& form) {
    Result<std::string> path = path_beside(scene_file_, form.file);
    if (!path) return Error{path.error().code, path.error().message, form.file};
    const auto known = model_hashes_.find(*path);
    if (known != model_hashes_.end()) return known->second;
    STANDPOINT_TRY(hash, gltf_content_hash(*path, files_));
    model_hashes_.emplace(*path, hash);
    return hash;
}

Result<Mesh> MeshStore::model_mesh(const ModelForm& form) {
    Result<std::string> path = path_beside(scene_file_, form.file);
    if (!path) return Error{path.error().code, path.error().message, form.file};
    const std::pair<std::string, double> key(*path, form.unit.mm);
    const auto known = model_meshes_.find(key);
    if (known != model_meshes_.end()) return known->second;
    STANDPOINT_TRY(mesh, read_gltf(*path, files_, form.unit.mm));
    return model_meshes_.emplace(key, std::move(mesh)).first->second;
}

// Of the skeleton and pose a figure refers to, where those are files.
Result<std::uint64_t> MeshStore::figure_hash(const FigureForm& form) {
    std::uint64_t hash = hash_bytes("figure");
    for (const std::string* name : {&form.skeleton, &form.pose}) {
        if (!name->ends_with(".json")) continue;
        STANDPOINT_TRY(path, path_beside(scene_file_, *name));
        STANDPOINT_TRY(text, files_.read(path));
        hash = mix(hash ^ hash_bytes(text));
    }
    return hash;
}

Result<Mesh> MeshStore::mesh_of_figure(const FigureForm& form) {
    STANDPOINT_TRY(figure, find_figure(form, scene_file_, files_));
    return figure_mesh(figure);
}

Result<std::uint64_t> MeshStore::hash_of_piece(const Piece& piece, std::size_t index) {
    ContentHash hash;
    for (std::size_t i = 0; i < piece.parts.size(); ++i) {
        const Part& part = piece.parts[i];
        hash.add(part);
        if (takes_default_colour(part)) hash.add(static_cast<int>(piece.kind));
        const auto* model = std::get_if<ModelForm>(&part.form);
        const auto* figure = std::get_if<FigureForm>(&part.form);
        if (!model && !figure) continue;
        Result<std::uint64_t> content = model ? model_hash(*model) : figure_hash(*figure);
        if (!content) return placed_error(content.error(), piece, index, i);
        hash.add_word(*content);
    }
    return hash.value();
}

Result<Mesh> MeshStore::mesh_of_part(const Part& part, PieceKind kind) {
    const auto* model = std::get_if<ModelForm>(&part.form);
    const auto* figure = std::get_if<FigureForm>(&part.form);
    const bool names_its_parts = model || figure;
    STANDPOINT_TRY(mesh, model    ? model_mesh(*model)
                         : figure ? mesh_of_figure(*figure)
                                  : standpoint::mesh_of(part.form));
    for (MeshPart& named : mesh.parts) {
        named.belongs_to = part.name;
        if (!names_its_parts) named.name = part.name;
    }
    glm::vec4 colour = default_colour(kind);
    if (!part.colour.empty()) {
        STANDPOINT_TRY(chosen, parse_colour(part.colour));
        colour = chosen;
    }
    for (Material& material : mesh.materials) {
        if (!model && (!figure || !part.colour.empty())) material.colour = colour;
        if (part.lets_through) {
            material.lets_through = static_cast<float>(part.lets_through->value);
        }
        if (part.gloss) material.gloss = static_cast<float>(part.gloss->value);
    }
    const Pose6& at = part.at;
    transform(mesh, rotation_of(at.facing.deg, at.tilt.deg, at.roll.deg),
              {at.x.mm, at.y.mm, at.z.mm}, 1);
    return std::move(mesh);
}

Result<SharedMesh> MeshStore::mesh_of_piece(const Piece& piece, std::size_t index) {
    STANDPOINT_TRY(hash, hash_of_piece(piece, index));
    const auto known = meshes_.find(hash);
    if (known != meshes_.end()) return SharedMesh{known->second, hash};
    Mesh whole;
    for (std::size_t i = 0; i < piece.parts.size(); ++i) {
        Result<Mesh> part = mesh_of_part(piece.parts[i], piece.kind);
        if (!part) return placed_error(part.error(), piece, index, i);
        if (whole.triangles.size() + part->triangles.size() > largest_mesh_triangles) {
            return placed_error(
                input_error("", fmt::format("found more than {} triangles, expected fewer",
                                            largest_mesh_triangles)),
                piece, index, i);
        }
        append(whole, *part);
    }
    auto mesh = std::make_shared<const Mesh>(std::move(whole));
    meshes_.emplace(hash, mesh);
    return SharedMesh{std::move(mesh), hash};
}

} // namespace standpoint
