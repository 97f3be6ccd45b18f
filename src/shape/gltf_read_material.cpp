// Materials of a glTF file: factors in range, textures resolved to images, samplers to wrapping.
#include "shape/gltf_read_material.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

#include <fmt/format.h>

#include "shape/image_decode.h"

namespace standpoint::gltf {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

// The object of a material's base colour texture; without value: none.
Result<Spot> base_colour_info(const Spot& material) {
    STANDPOINT_TRY(shading, object_member(material, "pbrMetallicRoughness"));
    return object_member(shading, "baseColorTexture");
}

Result<Spot> texture_of(const File& file, const Spot& info) {
    STANDPOINT_TRY(textures, list_member(file.root(), "textures"));
    STANDPOINT_TRY(index, index_member(info, "index", textures, "textures"));
    if (!index) return wrong(member(info, "index"), "nothing", "the index of a texture");
    return object_item(textures, *index);
}

Result<std::uint32_t> image_index(const File& file, const Spot& texture) {
    STANDPOINT_TRY(images, list_member(file.root(), "images"));
    STANDPOINT_TRY(index, index_member(texture, "source", images, "images"));
    if (!index)
        return wrong(member(texture, "source"), "nothing", "the index of a PNG or JPEG image");
    return *index;
}

Result<bool> repeats(const Spot& sampler, std::string_view key) {
    STANDPOINT_TRY(mode, whole_member(sampler, key, 10497));
    if (mode == 33071) return false;
    if (mode == 10497 || mode == 33648) return true; // a mirrored repeat is drawn as a plain one
    return wrong(member(sampler, key), std::to_string(mode), "10497, 33071 or 33648");
}

Status read_sampler(const File& file, const Spot& texture, Material& material) {
    STANDPOINT_TRY(samplers, list_member(file.root(), "samplers"));
    STANDPOINT_TRY(index, index_member(texture, "sampler", samplers, "samplers"));
    if (!index) return Done{};
    STANDPOINT_TRY(sampler, object_item(samplers, *index));
    STANDPOINT_TRY(u, repeats(sampler, "wrapS"));
    STANDPOINT_TRY(v, repeats(sampler, "wrapT"));
    material.repeat_u = u;
    material.repeat_v = v;
    return Done{};
}

// KHR_texture_transform: translation * rotation * scale, rotation counter-clockwise with v down.
Status read_uv_transform(const Spot& info, Look& look) {
    STANDPOINT_TRY(extensions, object_member(info, "extensions"));
    STANDPOINT_TRY(spot, object_member(extensions, "KHR_texture_transform"));
    if (!spot) return Done{};
    STANDPOINT_TRY(offset, numbers_member(spot, "offset", 2));
    STANDPOINT_TRY(scale, numbers_member(spot, "scale", 2));
    STANDPOINT_TRY(angle, number_member(spot, "rotation", 0, -infinity, infinity));
    STANDPOINT_TRY(set, whole_member(spot, "texCoord", look.uv_set));
    look.uv_set = static_cast<std::uint32_t>(std::min<std::uint64_t>(set, 1000));
    if (offset.empty()) offset = {0, 0};
    if (scale.empty()) scale = {1, 1};
    const double s = std::sin(angle), c = std::cos(angle);
    look.uv_transform = {c * scale[0], -s * scale[0], s * scale[1],
                         c * scale[1], offset[0],     offset[1]};
    return Done{};
}

bool has_see_through_texels(const Image& image) {
    for (std::size_t i = 3; i < image.rgba.size(); i += 4)
        if (image.rgba[i] != 255) return true;
    return false;
}

// What of the alpha counts, and how much light passes where the surface is not cut out.
Status read_alpha(const Spot& spot, Material& material) {
    STANDPOINT_TRY(mode, text_member(spot, "alphaMode"));
    STANDPOINT_TRY(cutoff, number_member(spot, "alphaCutoff", 0.5, 0, infinity));
    STANDPOINT_TRY(extensions, object_member(spot, "extensions"));
    STANDPOINT_TRY(transmission, object_member(extensions, "KHR_materials_transmission"));
    STANDPOINT_TRY(passes, number_member(transmission, "transmissionFactor", 0, 0, 1));
    const std::string name = mode.value_or("OPAQUE");
    const double alpha = name == "BLEND" ? static_cast<double>(material.colour.a) : 1;
    material.lets_through = static_cast<float>(1 - alpha * (1 - passes));
    if (name == "OPAQUE") {
        material.colour.a = 1;
    } else if (name == "MASK") {
        material.alpha_cutoff = static_cast<float>(cutoff);
    } else if (name == "BLEND") {
        // Texels that are more hole than surface are holes: leaves and netting drawn with soft
        // edges let the eye through between them.
        material.colour.a = 1;
        if (material.image && has_see_through_texels(*material.image)) material.alpha_cutoff = 0.5f;
    } else {
        const Spot at = member(spot, "alphaMode");
        return wrong(at, describe(at), "OPAQUE, MASK or BLEND");
    }
    return Done{};
}

} // namespace

Result<const Look*> Looks::get(std::optional<std::uint32_t> index) {
    const std::int64_t key = index ? std::int64_t{*index} : -1;
    const auto known = looks_.find(key);
    if (known != looks_.end()) return static_cast<const Look*>(&known->second);
    Look look;
    look.material.colour = glm::vec4(1.0f); // glTF's default, not ours
    if (index) {
        STANDPOINT_TRY(materials, list_member(file_.root(), "materials"));
        STANDPOINT_TRY(spot, object_item(materials, *index));
        STANDPOINT_TRY(found, read(spot));
        look = std::move(found);
    }
    return static_cast<const Look*>(&looks_.emplace(key, std::move(look)).first->second);
}

Result<Look> Looks::read(const Spot& spot) {
    Look look;
    Material& material = look.material;
    material.colour = glm::vec4(1.0f);
    STANDPOINT_TRY(shading, object_member(spot, "pbrMetallicRoughness"));
    STANDPOINT_TRY(factor, numbers_member(shading, "baseColorFactor", 4));
    for (std::size_t i = 0; i < factor.size(); ++i) {
        if (factor[i] < 0 || factor[i] > 1) {
            const Spot at = item(member(shading, "baseColorFactor"), i);
            return wrong(at, describe(at), "a number from 0 to 1");
        }
        material.colour[static_cast<int>(i)] = static_cast<float>(factor[i]);
    }
    STANDPOINT_TRY(info, base_colour_info(spot));
    if (info) STANDPOINT_TRY_STATUS(read_texture(info, look));
    STANDPOINT_TRY_STATUS(read_alpha(spot, material));
    STANDPOINT_TRY(two_sided, flag_member(spot, "doubleSided", false));
    material.two_sided = two_sided;
    return look;
}

Status Looks::read_texture(const Spot& info, Look& look) {
    STANDPOINT_TRY(set, whole_member(info, "texCoord", 0));
    look.uv_set = static_cast<std::uint32_t>(std::min<std::uint64_t>(set, 1000));
    STANDPOINT_TRY_STATUS(read_uv_transform(info, look));
    STANDPOINT_TRY(texture, texture_of(file_, info));
    STANDPOINT_TRY_STATUS(read_sampler(file_, texture, look.material));
    STANDPOINT_TRY(index, image_index(file_, texture));
    STANDPOINT_TRY(found, image(index));
    look.material.image = found;
    return Done{};
}

Result<std::shared_ptr<const Image>> Looks::image(std::uint32_t index) {
    const auto known = images_.find(index);
    if (known != images_.end()) return known->second;
    STANDPOINT_TRY(images, list_member(file_.root(), "images"));
    STANDPOINT_TRY(spot, object_item(images, index));
    STANDPOINT_TRY(uri, text_member(spot, "uri"));
    STANDPOINT_TRY(views, list_member(file_.root(), "bufferViews"));
    STANDPOINT_TRY(view, index_member(spot, "bufferView", views, "bufferViews"));
    if (uri.has_value() == view.has_value())
        return wrong(spot, uri ? "both uri and bufferView" : "neither uri nor bufferView",
                     "one of them");
    std::string read;
    std::string_view bytes;
    if (uri) {
        STANDPOINT_TRY(loaded, uri_bytes(member(spot, "uri"), *uri, files_));
        read = std::move(loaded);
        bytes = read;
    } else {
        STANDPOINT_TRY(viewed, buffers_.view(*view));
        bytes = viewed;
    }
    if (bytes.size() > bytes_left_)
        return wrong(spot, fmt::format("{} bytes", bytes.size()),
                     fmt::format("at most {} in all images", most_neighbour_bytes));
    bytes_left_ -= bytes.size();
    Result<Image> decoded = decode_image(bytes, pixels_left_);
    if (!decoded.ok())
        return input_error(file_.path,
                           fmt::format("{}: {}", spot.pointer, decoded.error().message));
    pixels_left_ -= decoded->rgba.size() / 4;
    return images_.emplace(index, std::make_shared<const Image>(std::move(*decoded))).first->second;
}

Result<std::vector<std::uint32_t>> base_colour_images(const File& file) {
    std::vector<std::uint32_t> out;
    std::set<std::uint32_t> seen;
    STANDPOINT_TRY(materials, list_member(file.root(), "materials"));
    for (std::size_t i = 0; i < length(materials); ++i) {
        STANDPOINT_TRY(material, object_item(materials, i));
        STANDPOINT_TRY(info, base_colour_info(material));
        if (!info) continue;
        STANDPOINT_TRY(texture, texture_of(file, info));
        STANDPOINT_TRY(index, image_index(file, texture));
        if (seen.insert(index).second) out.push_back(index);
    }
    return out;
}

} // namespace standpoint::gltf
