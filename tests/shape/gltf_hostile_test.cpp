// Broken and hostile glTF files: each refused with one line that says where and what.
#include <limits>

#include <doctest/doctest.h>

#include "shape/gltf_corpus.h"
#include "shape/gltf_read.h"

using namespace standpoint;
using namespace standpoint::gltf_samples;

TEST_CASE("the square that the corpus breaks is whole") {
    CHECK(read_sample(square()).triangles.size() == 2);
}

TEST_CASE("hostile files: each is refused where it is wrong") {
    for (const auto* corpus :
         {&wrongs_of_the_file(), &wrongs_of_buffers(), &wrongs_of_accessors(), &wrongs_of_sparse(),
          &wrongs_of_meshes(), &wrongs_of_nodes(), &wrongs_of_materials()}) {
        for (const Wrong& wrong : *corpus) {
            CAPTURE(wrong.name);
            Sample sample = square();
            wrong.change(sample.json);
            const std::string message = refusal(sample);
            CHECK_MESSAGE(message.find(wrong.expected) != std::string::npos, message);
        }
    }
}

TEST_CASE("hostile containers") {
    const std::string good = as_glb(square());
    const auto expect = [](const std::string& bytes, const char* part) {
        const std::string message = refusal(bytes);
        CHECK_MESSAGE(message.find(part) != std::string::npos, message);
    };
    for (std::size_t size = 0; size < good.size(); ++size)
        refusal(good.substr(0, size));
    expect(good + "....", "that the .glb header says");
    expect(good.substr(0, 16), "at least 20 bytes");
    std::string other = good;
    other[4] = 1;
    expect(other, "container version 1, expected 2");
    other = good;
    other[12] = static_cast<char>(other[12] + 1);
    expect(other, "multiple of 4");
    other = good;
    other[15] = 0x7f;
    expect(other, "expected at most the");
    other = good;
    other[16] = 'X';
    expect(other, "expected one JSON chunk, the first");
}

TEST_CASE("hostile JSON") {
    const auto expect = [](const std::string& bytes, const char* part) {
        const std::string message = refusal(bytes);
        CHECK_MESSAGE(message.find(part) != std::string::npos, message);
    };
    expect("", "expected valid JSON");
    expect("[]", "found JSON that is no object");
    expect("{\"asset\": ", "at byte 11: ");
    expect("{\"asset\": {\"version\": \"2.0\", \"version\": \"2.0\"}}",
           "the key \"version\" twice");
    expect("{\"a\": 1e999}", "expected valid JSON");
    expect("{\"a\": NaN}", "expected valid JSON");
    expect("{\"a\": \"\xff\"}", "expected valid JSON");
    for (const char* open : {"[", "{\"a\":"}) {
        std::string deep = "{\"asset\":{\"version\":\"2.0\"},\"extras\":";
        for (int i = 0; i < 100000; ++i)
            deep += open;
        expect(deep, "nested deeper than 64");
    }
    const Sample sample = square();
    for (const int levels : {62, 63}) { // the object round it is one level more
        Sample nested = sample;
        for (int i = 0; i < levels; ++i)
            nested.json["extras"] = Json::array({nested.json["extras"]});
        CHECK(read_gltf(sample_path, one_file(as_glb(nested)), 1).ok());
    }
    Sample nested = sample;
    for (int i = 0; i < 64; ++i)
        nested.json["extras"] = Json::array({nested.json["extras"]});
    refusal(nested);
}

TEST_CASE("hostile addresses are refused, and nothing outside the folder is asked for") {
    struct Watched : MemoryFiles {
        mutable std::vector<std::string> asked;
        Result<std::string> read(const std::string& path) const override {
            asked.push_back(path);
            return MemoryFiles::read(path);
        }
    };
    const Sample sample = tetrahedron();
    for (const char* uri :
         {"../buffer.bin", "%2e%2e/buffer.bin", "a/../../buffer.bin", "/buffer.bin",
          "..\\buffer.bin", "http://example.org/buffer.bin", "file:///buffer.bin", "",
          "buffer.bin%00.txt", "..", "%2E%2E%2Fbuffer.bin", "a/%2e./../buffer.bin"}) {
        CAPTURE(uri);
        Watched files;
        files.files[sample_path] = with_external(sample, uri);
        files.files["buffer.bin"] = files.files["/buffer.bin"] = sample.bytes;
        const auto mesh = read_gltf(sample_path, files, 1000);
        REQUIRE(!mesh.ok());
        CHECK(mesh.error().where == sample_path);
        CHECK(mesh.error().message.starts_with("/buffers/0/uri: "));
        CHECK(files.asked == std::vector<std::string>{sample_path});
        const auto hash = gltf_content_hash(sample_path, files);
        CHECK(!hash.ok());
    }
}

TEST_CASE("files that are not there are named, and it is the machine's fault") {
    CHECK(read_gltf("models/none.glb", {one_file("")}, 1).error().code == ErrorCode::io);
    const auto mesh =
        read_gltf(sample_path, one_file(with_external(tetrahedron(), "gone.bin")), 1000);
    REQUIRE(!mesh.ok());
    CHECK(mesh.error().code == ErrorCode::io);
    CHECK(mesh.error().where == sample_path);
    CHECK(mesh.error().message.starts_with("/buffers/0/uri: found \"gone.bin\" unreadable"));
}

TEST_CASE("data URIs that are no base64") {
    const Sample sample = tetrahedron();
    for (const char* uri : {"data:", "data:application/octet-stream,abcd", "data:;base64,abc",
                            "data:;base64,ab!d", "data:;base64,====", "data:;base64,AAAA"}) {
        CAPTURE(uri);
        CHECK(refusal(with_external(sample, uri)).starts_with("/buffers/0/"));
    }
}

TEST_CASE("positions that are no numbers are refused where a triangle uses them") {
    for (const float bad :
         {std::numeric_limits<float>::quiet_NaN(), std::numeric_limits<float>::infinity(), 3e38f}) {
        Sample sample = empty_sample();
        add_mesh(sample, add_points(sample, {{0, 0, 0}, {1, 0, 0}, {0, bad, 0}}));
        CHECK(refusal(sample).find("/meshes/0/primitives/0") != std::string::npos);
    }
}

TEST_CASE("small files that ask for endless work are refused") {
    Sample lines = square(); // 1000 nodes of 1001 primitives without a triangle
    Json& primitives = lines.json["meshes"][0]["primitives"];
    primitives[0]["mode"] = 1;
    for (int i = 0; i < 1000; ++i) {
        primitives.push_back(primitives[0]);
        lines.json["nodes"].push_back(lines.json["nodes"][0]);
    }
    CHECK(refusal(lines).find("at most 1000000 in a scene") != std::string::npos);

    Sample zeros = square(); // indices that no bytes stand for: each triangle collapses
    zeros.json["accessors"][2].erase("bufferView");
    zeros.json["accessors"][2]["count"] = 3'000'000;
    for (int i = 0; i < 60; ++i)
        zeros.json["nodes"].push_back(zeros.json["nodes"][0]);
    CHECK(refusal(zeros).find("at most 50000000 in a model") != std::string::npos);
}

TEST_CASE("indices at the restart value and past the end are refused") {
    Sample sample = empty_sample();
    const int points = add_points(sample, std::vector<glm::vec3>(256, glm::vec3(1)));
    add_mesh(sample, points, add_indices(sample, {0, 1, 255}, u8));
    CHECK(refusal(sample).find("index 255 at 2, expected a vertex, 0 to 254") != std::string::npos);
}
