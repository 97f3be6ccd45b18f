// PNG by libpng into memory.
#include "shape/image_encode.h"

#include <png.h>

namespace standpoint {

namespace {

bool opaque(const Image& image) {
    for (std::size_t i = 3; i < image.rgba.size(); i += 4)
        if (image.rgba[i] != 255) return false;
    return true;
}

std::vector<std::uint8_t> without_alpha(const Image& image) {
    std::vector<std::uint8_t> out;
    out.reserve(image.rgba.size() / 4 * 3);
    for (std::size_t i = 0; i < image.rgba.size(); i += 4)
        out.insert(out.end(), image.rgba.begin() + static_cast<std::ptrdiff_t>(i),
                   image.rgba.begin() + static_cast<std::ptrdiff_t>(i + 3));
    return out;
}

} // namespace

Result<std::string> encode_png(const Image& image) {
    STANDPOINT_CHECK(image.width > 0 && image.height > 0);
    STANDPOINT_CHECK(image.rgba.size() == std::size_t{4} * static_cast<std::size_t>(image.width) *
                                              static_cast<std::size_t>(image.height));
    png_image png{};
    png.version = PNG_IMAGE_VERSION;
    png.width = static_cast<png_uint_32>(image.width);
    png.height = static_cast<png_uint_32>(image.height);
    png.format = opaque(image) ? PNG_FORMAT_RGB : PNG_FORMAT_RGBA;
    const std::vector<std::uint8_t> texels =
        png.format == PNG_FORMAT_RGB ? without_alpha(image) : image.rgba;
    png_alloc_size_t size = PNG_IMAGE_PNG_SIZE_MAX(png);
    std::string out(size, '\0');
    if (!png_image_write_to_memory(&png, out.data(), &size, 0, texels.data(), 0, nullptr))
        return io_error("", std::string("a texture cannot be written as PNG: ") + png.message);
    out.resize(size);
    return out;
}

} // namespace standpoint
