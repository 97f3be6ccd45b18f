// PNG by libpng, JPEG by libjpeg-turbo; both from memory, nothing accepted in half.
#include "shape/image_decode.h"

#include <memory>

#include <fmt/format.h>
#include <png.h>
#include <turbojpeg.h>

namespace standpoint {

namespace {

Status check_size(std::uint64_t width, std::uint64_t height, std::size_t most_pixels) {
    if (width < 1 || height < 1 || width > longest_image_side || height > longest_image_side)
        return input_error("", fmt::format("found an image of {} x {}, expected sides of 1 to {}",
                                           width, height, longest_image_side));
    if (width * height > most_pixels)
        return input_error("", fmt::format("found an image of {} x {}, expected at most {} pixels "
                                           "left of what a model may hold",
                                           width, height, most_pixels));
    return Done{};
}

Image blank(std::uint64_t width, std::uint64_t height) {
    return {static_cast<int>(width), static_cast<int>(height),
            std::vector<std::uint8_t>(static_cast<std::size_t>(width * height * 4))};
}

Error broken(std::string_view kind, std::string_view why) {
    return input_error(
        "", fmt::format("found a {} that cannot be decoded ({}), expected a whole one", kind, why));
}

struct PngReader {
    png_image image{};
    PngReader() { image.version = PNG_IMAGE_VERSION; }
    ~PngReader() { png_image_free(&image); }
    PngReader(const PngReader&) = delete;
    PngReader& operator=(const PngReader&) = delete;
};

Result<Image> decode_png(std::string_view bytes, std::size_t most_pixels) {
    PngReader png;
    if (!png_image_begin_read_from_memory(&png.image, bytes.data(), bytes.size()))
        return broken("PNG", png.image.message);
    STANDPOINT_TRY_STATUS(check_size(png.image.width, png.image.height, most_pixels));
    png.image.format = PNG_FORMAT_RGBA;
    png.image.flags |= PNG_IMAGE_FLAG_16BIT_sRGB;
    Image out = blank(png.image.width, png.image.height);
    if (!png_image_finish_read(&png.image, nullptr, out.rgba.data(), 0, nullptr))
        return broken("PNG", png.image.message);
    return out;
}

Result<Image> decode_jpeg(std::string_view bytes, std::size_t most_pixels) {
    const std::unique_ptr<void, int (*)(tjhandle)> jpeg(tjInitDecompress(), tjDestroy);
    const auto* data = reinterpret_cast<const unsigned char*>(bytes.data());
    const auto size = static_cast<unsigned long>(bytes.size());
    int width = 0, height = 0, sampling = 0, colours = 0;
    if (!jpeg || tjDecompressHeader3(jpeg.get(), data, size, &width, &height, &sampling, &colours))
        return broken("JPEG", tjGetErrorStr2(jpeg.get()));
    STANDPOINT_TRY_STATUS(check_size(static_cast<std::uint64_t>(width),
                                     static_cast<std::uint64_t>(height), most_pixels));
    Image out = blank(static_cast<std::uint64_t>(width), static_cast<std::uint64_t>(height));
    // Stop at warnings too: a picture cut short would otherwise come out half grey.
    const int flags = TJFLAG_STOPONWARNING | TJFLAG_LIMITSCANS | TJFLAG_ACCURATEDCT;
    if (tjDecompress2(jpeg.get(), data, size, out.rgba.data(), width, 0, height, TJPF_RGBA, flags))
        return broken("JPEG", tjGetErrorStr2(jpeg.get()));
    return out;
}

} // namespace

Result<Image> decode_image(std::string_view bytes, std::size_t most_pixels) {
    if (bytes.starts_with("\x89PNG")) return decode_png(bytes, most_pixels);
    if (bytes.starts_with("\xff\xd8\xff")) return decode_jpeg(bytes, most_pixels);
    return input_error("", "found bytes that are no image known here, expected PNG or JPEG");
}

} // namespace standpoint
