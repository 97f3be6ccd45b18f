// Materials and textures out of glTF.
#include <cmath>
#include <memory>
#include <numbers>

#include <doctest/doctest.h>
#include <glm/geometric.hpp>
#include <turbojpeg.h>

#include "shape/gltf_read.h"
#include "shape/gltf_samples.h"
#include "shape/image_decode.h"
#include "shape/image_encode.h"
#include "support/random.h"

using namespace standpoint;
using namespace standpoint::gltf_samples;

namespace {

constexpr std::size_t plenty = 1 << 20;

std::string png_of(const Image& image) {
    const auto png = encode_png(image);
    REQUIRE(png.ok());
    return *png;
}

std::string jpeg_of(const Image& image) {
    const std::unique_ptr<void, int (*)(tjhandle)> jpeg(tjInitCompress(), tjDestroy);
    std::string out(tjBufSize(image.width, image.height, TJSAMP_444), '\0');
    auto* bytes = reinterpret_cast<unsigned char*>(out.data());
    unsigned long size = out.size();
    REQUIRE(tjCompress2(jpeg.get(), image.rgba.data(), image.width, 0, image.height, TJPF_RGBA,
                        &bytes, &size, TJSAMP_444, 100, TJFLAG_NOREALLOC) == 0);
    out.resize(size);
    return out;
}

Material material_of(const Json& material) {
    Sample sample = tetrahedron();
    sample.json["materials"] = Json::array({material});
    sample.json["meshes"][0]["primitives"][0]["material"] = 0;
    return read_sample(sample).materials.at(0);
}

Image random_image(support::Random& random, int width, int height) {
    Image out{width, height, {}};
    for (int i = 0; i < width * height * 4; ++i)
        out.rgba.push_back(static_cast<std::uint8_t>(random.integer(0, 255)));
    return out;
}

} // namespace

TEST_CASE("PNG goes out and comes back texel by texel") {
    support::Random random(21);
    for (int round = 0; round < 20; ++round) {
        Image image = random_image(random, static_cast<int>(random.integer(1, 30)),
                                   static_cast<int>(random.integer(1, 30)));
        if (round % 2 == 0)
            for (std::size_t i = 3; i < image.rgba.size(); i += 4)
                image.rgba[i] = 255;
        const auto back = decode_image(png_of(image), plenty);
        REQUIRE(back.ok());
        CHECK(back->width == image.width);
        CHECK(back->height == image.height);
        CHECK(back->rgba == image.rgba);
        CHECK(png_of(image) == png_of(image));
    }
}

TEST_CASE("JPEG comes back close, and both kinds are refused in half or over size") {
    Image image{16, 16, {}};
    for (int i = 0; i < 256; ++i)
        image.rgba.insert(image.rgba.end(), {static_cast<std::uint8_t>(i / 16 * 16), 80, 120, 255});
    for (const std::string& bytes : {jpeg_of(image), png_of(image)}) {
        const auto back = decode_image(bytes, 256);
        REQUIRE(back.ok());
        int worst = 0;
        for (std::size_t i = 0; i < image.rgba.size(); ++i)
            worst = std::max(worst, std::abs(int{back->rgba[i]} - int{image.rgba[i]}));
        CHECK(worst <= 8);
        CHECK(!decode_image(bytes, 255).ok());
        // Cut anywhere: refused, unless all that is missing is the mark of the end.
        std::size_t accepted = 0;
        for (std::size_t part = 0; part < bytes.size(); ++part) {
            const auto cut = decode_image(std::string_view(bytes).substr(0, part), 256);
            if (cut.ok()) CHECK(cut->rgba == back->rgba);
            accepted += cut.ok() ? 1 : 0;
        }
        CHECK(accepted <= 16);
    }
    CHECK(decode_image("GIF89a", plenty).error().message.find("PNG or JPEG") != std::string::npos);
}

TEST_CASE("an image wider than any texture is refused before memory is taken") {
    const Image wide{16385, 1, std::vector<std::uint8_t>(16385 * 4, 7)};
    CHECK(decode_image(png_of(wide), 1 << 20).error().message.find("16384") != std::string::npos);
    const Image widest{16384, 1, std::vector<std::uint8_t>(16384 * 4, 7)};
    CHECK(decode_image(png_of(widest), 1 << 20).ok());
}

TEST_CASE("a texture is the same from a view, a data URI and a file, PNG or JPEG") {
    const std::string png = png_of(four_texels());
    const Mesh inside = read_sample(textured_square(png));
    REQUIRE(inside.materials.at(0).image);
    CHECK(inside.materials[0].image->rgba == four_texels().rgba);
    Sample sample = textured_square(png);
    sample.json["images"][0] = {{"uri", "data:image/png;base64," + base64(png)}};
    CHECK(read_sample(sample).materials.at(0).image->rgba == four_texels().rgba);
    sample.json["images"][0] = {{"uri", "paint/red.png"}};
    MemoryFiles files = one_file(as_glb(sample));
    files.files["models/paint/red.png"] = png;
    const auto beside = read_gltf(sample_path, files, 1000);
    REQUIRE(beside.ok());
    CHECK(beside->materials.at(0).image->rgba == four_texels().rgba);
    const Mesh photo = read_sample(textured_square(jpeg_of(four_texels()), "image/jpeg"));
    CHECK(photo.materials.at(0).image->width == 2);
}

TEST_CASE("texture coordinates come with the texture, from the set it names") {
    Sample sample = textured_square(png_of(four_texels()));
    const Mesh mesh = read_sample(sample);
    REQUIRE(mesh.uvs.size() == 4);
    CHECK(mesh.uvs[0] == glm::vec2(0, 1));
    CHECK(texel(mesh.materials[0], {0.25f, 0.25f}) == glm::vec4(1, 0, 0, 1)); // top row first
    const int other =
        add_accessor(sample, bytes_of(std::vector<float>{0, 0, 0, 1, 1, 1, 1, 0}), f32, "VEC2", 4);
    sample.json["meshes"][0]["primitives"][0]["attributes"]["TEXCOORD_1"] = other;
    sample.json["materials"][0]["pbrMetallicRoughness"]["baseColorTexture"]["texCoord"] = 1;
    CHECK(read_sample(sample).uvs[0] == glm::vec2(0, 0));
    CHECK(read_sample(tetrahedron()).uvs.empty());
}

TEST_CASE("texture coordinates may be normalised integers") {
    Sample sample = textured_square(png_of(four_texels()));
    const std::vector<std::uint16_t> uvs{0, 65535, 65535, 65535, 65535, 0, 0, 0};
    sample.json["meshes"][0]["primitives"][0]["attributes"]["TEXCOORD_0"] =
        add_accessor(sample, bytes_of(uvs), u16, "VEC2", 4, true);
    CHECK(read_sample(sample).uvs == read_sample(textured_square(png_of(four_texels()))).uvs);
}

TEST_CASE(
    "a texture transform lays the square onto the quadrant that the extension's example names") {
    Sample sample = textured_square(png_of(four_texels()));
    // KHR_texture_transform, first example: the lower left quadrant of the image.
    sample.json["materials"][0]["pbrMetallicRoughness"]["baseColorTexture"]["extensions"] = {
        {"KHR_texture_transform",
         {{"offset", {0, 1}}, {"rotation", std::numbers::pi / 2}, {"scale", {0.5, 0.5}}}}};
    for (const glm::vec2& uv : read_sample(sample).uvs) {
        CHECK(uv.x > -1e-6f);
        CHECK(uv.x < 0.5f + 1e-6f);
        CHECK(uv.y > 0.5f - 1e-6f);
        CHECK(uv.y < 1 + 1e-6f);
    }
    // And the second: the vertical axis turned over.
    sample.json["materials"][0]["pbrMetallicRoughness"]["baseColorTexture"]["extensions"] = {
        {"KHR_texture_transform", {{"offset", {0, 1}}, {"scale", {1, -1}}}}};
    CHECK(read_sample(sample).uvs[0] == glm::vec2(0, 0));
}

TEST_CASE("samplers repeat or clamp; a mirrored repeat is a repeat") {
    Sample sample = textured_square(png_of(four_texels()));
    sample.json["textures"][0]["sampler"] = 0;
    sample.json["samplers"] = {{{"wrapS", 33071}, {"wrapT", 33648}}};
    const Material material = read_sample(sample).materials.at(0);
    CHECK(!material.repeat_u);
    CHECK(material.repeat_v);
    sample.json["samplers"] = Json::array({Json::object()});
    CHECK(read_sample(sample).materials.at(0).repeat_u);
}

TEST_CASE("base colour, alpha modes, light let through, two sides") {
    const auto colour = [](double alpha) {
        return Json{{"baseColorFactor", {0.1, 0.2, 0.3, alpha}}};
    };
    const Material plain = material_of({{"pbrMetallicRoughness", colour(0.4)}});
    CHECK(plain.colour == glm::vec4(0.1f, 0.2f, 0.3f, 1)); // alpha counts only where asked for
    CHECK(plain.alpha_cutoff < 0);
    CHECK(plain.lets_through == 0);
    CHECK(!plain.two_sided);
    const Material mask = material_of({{"alphaMode", "MASK"}, {"alphaCutoff", 0.7}});
    CHECK(mask.alpha_cutoff == 0.7f);
    CHECK(material_of({{"alphaMode", "MASK"}}).alpha_cutoff == 0.5f);
    const Material glass = material_of(
        {{"alphaMode", "BLEND"}, {"doubleSided", true}, {"pbrMetallicRoughness", colour(0.25)}});
    CHECK(glass.lets_through == 0.75f);
    CHECK(glass.alpha_cutoff < 0);
    CHECK(glass.two_sided);
    const Json through{{"KHR_materials_transmission", {{"transmissionFactor", 0.5}}}};
    CHECK(material_of({{"extensions", through}}).lets_through == 0.5f);
    CHECK(material_of({{"extensions", through},
                       {"alphaMode", "BLEND"},
                       {"pbrMetallicRoughness", colour(0.5)}})
              .lets_through == 0.75f);
    CHECK(read_sample(tetrahedron()).materials.at(0).colour == glm::vec4(1)); // glTF's own default
}

TEST_CASE("blended texels that are more hole than surface are cut out") {
    Sample sample = textured_square(png_of(four_texels()));
    sample.json["materials"][0]["alphaMode"] = "BLEND";
    const Mesh mesh = read_sample(sample);
    CHECK(mesh.materials.at(0).lets_through == 0);
    CHECK(mesh.materials[0].alpha_cutoff == 0.5f);
    int open = 0; // one texel of the four, and the square's two triangles cover each of them
    for (std::uint32_t t = 0; t < 2; ++t)
        for (const double u : {0.1, 0.45, 0.8})
            for (const double v : {0.05, 0.15})
                open += cut_out(mesh, t, u, v) ? 1 : 0;
    CHECK(open > 0);
    CHECK(open < 12);
    Image solid = four_texels();
    solid.rgba.back() = 255;
    Sample opaque = textured_square(png_of(solid));
    opaque.json["materials"][0]["alphaMode"] = "BLEND";
    CHECK(read_sample(opaque).materials.at(0).alpha_cutoff < 0);
}

TEST_CASE("one image serves all its materials") {
    Sample sample = textured_square(png_of(four_texels()));
    sample.json["materials"].push_back(sample.json["materials"][0]);
    Json& primitives = sample.json["meshes"][0]["primitives"];
    primitives.push_back(primitives[0]);
    primitives[1]["material"] = 1;
    const Mesh mesh = read_sample(sample);
    REQUIRE(mesh.materials.size() == 2);
    CHECK(mesh.materials[0].image == mesh.materials[1].image);
}
