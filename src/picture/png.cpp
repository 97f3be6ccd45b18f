// PNG out through libpng, into a sink.
#include <csetjmp>
#include <string>

#include <png.h>

#include "picture/picture.h"

namespace standpoint {
namespace {

struct Writing {
    Sink* sink = nullptr;
    Status status = Done{};
    std::string message;
};

void put(png_structp png, png_bytep bytes, png_size_t count) {
    auto* writing = static_cast<Writing*>(png_get_io_ptr(png));
    writing->status = writing->sink->write(
        {reinterpret_cast<const char*>(bytes), static_cast<std::size_t>(count)});
    if (!writing->status) png_error(png, "the sink refused");
}

void keep_message(png_structp png, png_const_charp message) {
    static_cast<Writing*>(png_get_error_ptr(png))->message = message;
    png_longjmp(png, 1);
}

void ignore_warning(png_structp, png_const_charp) {}

// Between setjmp and its return only plain values live here, so that a jump skips no destructor.
bool write_rows(png_structp png, png_infop info, const Image& image, std::uint8_t* row) {
    if (setjmp(png_jmpbuf(png))) return false;
    png_set_IHDR(png, info, static_cast<png_uint_32>(image.width),
                 static_cast<png_uint_32>(image.height), 8, PNG_COLOR_TYPE_RGB, PNG_INTERLACE_NONE,
                 PNG_COMPRESSION_TYPE_DEFAULT, PNG_FILTER_TYPE_DEFAULT);
    png_set_sRGB(png, info, PNG_sRGB_INTENT_PERCEPTUAL);
    png_set_compression_level(png, 9);
    png_write_info(png, info);
    const std::uint8_t* from = image.rgba.data();
    for (int y = 0; y < image.height; ++y) {
        for (int x = 0; x < image.width; ++x, from += 4) {
            row[3 * x] = from[0];
            row[3 * x + 1] = from[1];
            row[3 * x + 2] = from[2];
        }
        png_write_row(png, row);
    }
    png_write_end(png, info);
    return true;
}

} // namespace

Status write_png(const Image& image, Sink& sink) {
    STANDPOINT_CHECK(image.width > 0 && image.height > 0);
    STANDPOINT_CHECK(image.rgba.size() == 4 * static_cast<std::size_t>(image.width) * image.height);
    Writing writing;
    writing.sink = &sink;
    png_structp png =
        png_create_write_struct(PNG_LIBPNG_VER_STRING, &writing, keep_message, ignore_warning);
    if (png == nullptr) return io_error("picture", "the PNG writer could not be started");
    png_infop info = png_create_info_struct(png);
    png_set_write_fn(png, &writing, put, nullptr);
    std::string row(3 * static_cast<std::size_t>(image.width), '\0');
    const bool done = info != nullptr &&
                      write_rows(png, info, image, reinterpret_cast<std::uint8_t*>(row.data()));
    png_destroy_write_struct(&png, &info);
    if (!writing.status) return writing.status.error();
    if (!done) return io_error("picture", "the PNG could not be written: " + writing.message);
    return Done{};
}

} // namespace standpoint
