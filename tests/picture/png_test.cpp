// PNG files read back by libpng, and sinks that refuse.
#include <cstring>

#include <doctest/doctest.h>
#include <png.h>

#include "base/hash.h"
#include "picture/picture.h"

using namespace standpoint;

namespace {

Image speckled(int width, int height) {
    Image image;
    image.width = width;
    image.height = height;
    for (int i = 0; i < width * height; ++i) {
        const std::uint64_t word = mix(static_cast<std::uint64_t>(i));
        image.rgba.insert(image.rgba.end(),
                          {static_cast<std::uint8_t>(word), static_cast<std::uint8_t>(word >> 8),
                           static_cast<std::uint8_t>(word >> 16), std::uint8_t{255}});
    }
    return image;
}

Image read_back(const std::string& bytes) {
    png_image png;
    std::memset(&png, 0, sizeof png);
    png.version = PNG_IMAGE_VERSION;
    REQUIRE(png_image_begin_read_from_memory(&png, bytes.data(), bytes.size()));
    png.format = PNG_FORMAT_RGBA;
    Image image;
    image.width = static_cast<int>(png.width);
    image.height = static_cast<int>(png.height);
    image.rgba.resize(PNG_IMAGE_SIZE(png));
    REQUIRE(png_image_finish_read(&png, nullptr, image.rgba.data(), 0, nullptr));
    return image;
}

class FullSink : public Sink { // takes so many bytes and then refuses
  public:
    explicit FullSink(std::size_t room) : room_(room) {}
    Status write(std::string_view bytes) override {
        if (bytes.size() > room_) return io_error("low-water.png", "no space left on device");
        room_ -= bytes.size();
        return Done{};
    }

  private:
    std::size_t room_;
};

} // namespace

TEST_CASE("a picture comes back from its PNG as it was") {
    for (const auto& [width, height] : {std::pair{1, 1}, {7, 5}, {64, 36}}) {
        const Image image = speckled(width, height);
        StringSink sink;
        REQUIRE(write_png(image, sink).ok());
        const Image back = read_back(sink.bytes);
        CHECK(back.width == width);
        CHECK(back.height == height);
        CHECK(back.rgba == image.rgba);
    }
}

TEST_CASE("a PNG carries no time and is the same twice") {
    const Image image = speckled(20, 20);
    StringSink first, second;
    REQUIRE(write_png(image, first).ok());
    REQUIRE(write_png(image, second).ok());
    CHECK(first.bytes == second.bytes);
    CHECK(first.bytes.find("tIME") == std::string::npos);
    CHECK(first.bytes.find("tEXt") == std::string::npos);
    CHECK(first.bytes.find("IEND") != std::string::npos);
}

TEST_CASE("what the sink says when it refuses is passed on, wherever it happens") {
    const Image image = speckled(64, 36);
    StringSink whole;
    REQUIRE(write_png(image, whole).ok());
    for (const std::size_t room : {std::size_t{0}, std::size_t{8}, std::size_t{40},
                                   whole.bytes.size() / 2, whole.bytes.size() - 1}) {
        FullSink sink(room);
        const Status status = write_png(image, sink);
        REQUIRE_FALSE(status.ok());
        CHECK(one_line(status.error()) == "low-water.png: no space left on device");
    }
    FullSink enough(whole.bytes.size());
    CHECK(write_png(image, enough).ok());
}
