// Good glTF files damaged at random: refused or read, never a crash or an unsound mesh.
#include <doctest/doctest.h>

#include "shape/gltf_corpus.h"
#include "shape/gltf_read.h"
#include "support/random.h"

using namespace standpoint;
using namespace standpoint::gltf_samples;

TEST_CASE("bytes turned and files cut never crash, and never make an unsound mesh") {
    support::Random random(31);
    const std::string good = as_glb(square());
    int accepted = 0;
    for (int round = 0; round < 6000; ++round) {
        std::string bytes = good;
        for (std::int64_t n = random.integer(1, 6); n > 0; --n) {
            const auto at = static_cast<std::size_t>(
                random.integer(0, static_cast<std::int64_t>(bytes.size()) - 1));
            bytes[at] = static_cast<char>(random.integer(0, 255));
        }
        if (round % 8 == 0) bytes.resize(static_cast<std::size_t>(random.integer(0, 1500)));
        const auto mesh = read_gltf(sample_path, one_file(bytes), 1000);
        if (mesh.ok()) {
            check_sound(*mesh);
            ++accepted;
        } else {
            CHECK(one_line(mesh.error()).find('\n') == std::string::npos);
        }
        (void)gltf_content_hash(sample_path, one_file(bytes));
    }
    CHECK(accepted > 0); // the test would be blind if nothing got through
}

namespace {

Json anything(support::Random& random) {
    switch (random.integer(0, 9)) {
    case 0:
        return nullptr;
    case 1:
        return random.integer(0, 1) == 0;
    case 2:
        return random.integer(-2, 8);
    case 3:
        return random.uniform(-10, 10);
    case 4:
        return 4294967295.0;
    case 5:
        return 1e308;
    case 6:
        return "text";
    case 7:
        return Json::array();
    case 8:
        return Json::object();
    default:
        return Json::array({random.integer(0, 4), random.integer(0, 4)});
    }
}

void change_one(Json& root, support::Random& random) {
    const Json flat = root.flatten();
    auto at = flat.begin();
    std::advance(at, random.integer(0, static_cast<std::int64_t>(flat.size()) - 1));
    Json::json_pointer pointer(at.key());
    while (random.integer(0, 3) == 0 && !pointer.parent_pointer().empty())
        pointer = pointer.parent_pointer();
    root[pointer] = anything(random);
}

} // namespace

TEST_CASE("values swapped for any other kind never crash, and never make an unsound mesh") {
    support::Random random(32);
    const Sample good = square();
    int accepted = 0;
    for (int round = 0; round < 4000; ++round) {
        Sample sample = good;
        for (std::int64_t n = random.integer(1, 3); n > 0; --n)
            change_one(sample.json, random);
        const auto mesh = read_gltf(sample_path, one_file(as_glb(sample)), 1000);
        if (mesh.ok()) {
            check_sound(*mesh);
            ++accepted;
        } else {
            CHECK(mesh.error().where == sample_path);
            CHECK(mesh.error().message.find("expected ") != std::string::npos);
        }
    }
    CHECK(accepted > 0);
}
