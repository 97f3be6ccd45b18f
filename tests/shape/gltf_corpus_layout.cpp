// Ways to break a glTF file in its header, buffers, views and accessors.
#include "shape/gltf_corpus.h"

#include <doctest/doctest.h>

#include "shape/image_encode.h"

namespace standpoint::gltf_samples {

namespace {

Json& primitive(Json& j) {
    return j["meshes"][0]["primitives"][0];
}

Json sparse(int indices_view, int type, int values_view, int count) {
    return {{"count", count},
            {"indices", {{"bufferView", indices_view}, {"componentType", type}}},
            {"values", {{"bufferView", values_view}}}};
}

} // namespace

Sample square() {
    const auto png = encode_png(four_texels());
    REQUIRE(png.ok());
    Sample out = textured_square(*png);
    out.json["meshes"][0]["primitives"][0]["attributes"]["NORMAL"] =
        add_points(out, std::vector<glm::vec3>(4, {0, 0, 1}));
    return out;
}

const std::vector<Wrong>& wrongs_of_the_file() {
    static const std::vector<Wrong> out = {
        {"no asset", [](Json& j) { j.erase("asset"); }, "/asset/version: found nothing"},
        {"asset a list", [](Json& j) { j["asset"] = Json::array(); }, "/asset: found a list of 0"},
        {"version 1", [](Json& j) { j["asset"]["version"] = "1.0"; }, "found \"1.0\""},
        {"version 9", [](Json& j) { j["asset"]["version"] = "9.0"; }, "expected glTF version 2.0"},
        {"version a number", [](Json& j) { j["asset"]["version"] = 2.0; }, "expected a text"},
        {"version in words", [](Json& j) { j["asset"]["version"] = "2.x"; }, "a version such as"},
        {"later minVersion", [](Json& j) { j["asset"]["minVersion"] = "2.1"; },
         "/asset/minVersion: found \"2.1\""},
        {"unknown required extension",
         [](Json& j) { j["extensionsRequired"] = {"KHR_draco_mesh_compression"}; },
         "/extensionsRequired/0: found the required extension \"KHR_draco_mesh_compression\""},
        {"required extension a number", [](Json& j) { j["extensionsRequired"] = {7}; },
         "the name of an extension"},
        {"extensions an object", [](Json& j) { j["extensionsUsed"] = Json::object(); },
         "/extensionsUsed: found an object, expected a list"},
    };
    return out;
}

const std::vector<Wrong>& wrongs_of_buffers() {
    static const std::vector<Wrong> out = {
        {"buffers an object", [](Json& j) { j["buffers"] = Json::object(); }, "/buffers: found"},
        {"buffer a number", [](Json& j) { j["buffers"][0] = 4; }, "/buffers/0: found 4"},
        {"no buffers", [](Json& j) { j.erase("buffers"); }, "no index, as buffers is empty"},
        {"buffer without length", [](Json& j) { j["buffers"][0].erase("byteLength"); },
         "/buffers/0/byteLength: found nothing"},
        {"buffer of 0", [](Json& j) { j["buffers"][0]["byteLength"] = 0; }, "at least 1 byte"},
        {"buffer too long", [](Json& j) { j["buffers"][0]["byteLength"] = 1000000; },
         "/buffers/0/byteLength: found 1000000, expected at most"},
        {"second buffer without uri",
         [](Json& j) {
             j["buffers"].push_back({{"byteLength", 4}});
         },
         "/buffers/1/uri: found nothing"},
        {"view's buffer missing", [](Json& j) { j["bufferViews"][0].erase("buffer"); },
         "/bufferViews/0/buffer: found nothing"},
        {"view's buffer out of range", [](Json& j) { j["bufferViews"][0]["buffer"] = 1; },
         "/bufferViews/0/buffer: found 1, expected an index into buffers, 0 to 0"},
        {"view's buffer a text", [](Json& j) { j["bufferViews"][0]["buffer"] = "0"; },
         "found \"0\""},
        {"view past the end", [](Json& j) { j["bufferViews"][0]["byteLength"] = 1000000; },
         "/bufferViews/0: found bytes 0 to 1000000"},
        {"view starts past the end", [](Json& j) { j["bufferViews"][0]["byteOffset"] = 1000000; },
         "/bufferViews/0: found bytes 1000000 to"},
        {"view overflows", [](Json& j) { j["bufferViews"][0]["byteOffset"] = 9007199254740992.0; },
         "found bytes 9007"},
        {"view offset negative", [](Json& j) { j["bufferViews"][0]["byteOffset"] = -4; },
         "/bufferViews/0/byteOffset: found -4"},
        {"view offset a fraction", [](Json& j) { j["bufferViews"][0]["byteOffset"] = 0.5; },
         "found 0.5"},
        {"view offset huge", [](Json& j) { j["bufferViews"][0]["byteOffset"] = 1e300; },
         "a whole number"},
        {"view of 0 bytes", [](Json& j) { j["bufferViews"][0]["byteLength"] = 0; },
         "at least 1 byte"},
        {"stride of 0", [](Json& j) { j["bufferViews"][0]["byteStride"] = 0; }, "4 to 252"},
        {"stride of 256", [](Json& j) { j["bufferViews"][0]["byteStride"] = 256; }, "4 to 252"},
        {"stride of 14", [](Json& j) { j["bufferViews"][0]["byteStride"] = 14; }, "multiple of 4"},
        {"stride under the element", [](Json& j) { j["bufferViews"][0]["byteStride"] = 8; },
         "/accessors/0: found elements of 12 bytes"},
        {"stride past the view", [](Json& j) { j["bufferViews"][0]["byteStride"] = 252; },
         "/accessors/0: found 4 elements up to byte 768"},
        {"stride on indices",
         [](Json& j) {
             j["bufferViews"][2]["byteStride"] = 4;
             j["bufferViews"][2]["byteLength"] = 24;
         },
         "byteStride"},
    };
    return out;
}

const std::vector<Wrong>& wrongs_of_accessors() {
    static const std::vector<Wrong> out = {
        {"no accessors", [](Json& j) { j.erase("accessors"); },
         "/meshes/0/primitives/0/attributes/POSITION: found 0, expected no index"},
        {"accessor a text", [](Json& j) { j["accessors"][0] = "x"; }, "/accessors/0: found \"x\""},
        {"view out of range", [](Json& j) { j["accessors"][0]["bufferView"] = 99; },
         "/accessors/0/bufferView: found 99"},
        {"offset negative", [](Json& j) { j["accessors"][0]["byteOffset"] = -1; }, "found -1"},
        {"offset odd", [](Json& j) { j["accessors"][2]["byteOffset"] = 1; },
         "/accessors/2: found byteOffset 1"},
        {"offset out of step", [](Json& j) { j["accessors"][0]["byteOffset"] = 2; },
         "multiples of 4 for FLOAT"},
        {"offset without view",
         [](Json& j) {
             j["accessors"][0].erase("bufferView");
             j["accessors"][0]["byteOffset"] = 4;
         },
         "none without a bufferView"},
        {"one element too many", [](Json& j) { j["accessors"][0]["count"] = 5; },
         "/accessors/0: found 5 elements up to byte 60, expected to end inside the view's 48"},
        {"count 0", [](Json& j) { j["accessors"][0]["count"] = 0; }, "/accessors/0/count: found 0"},
        {"count missing", [](Json& j) { j["accessors"][0].erase("count"); }, "found nothing"},
        {"count negative", [](Json& j) { j["accessors"][0]["count"] = -4; }, "found -4"},
        {"count beyond 32 bits", [](Json& j) { j["accessors"][0]["count"] = 4294967296; },
         "found 4294967296"},
        {"count that overflows", [](Json& j) { j["accessors"][0]["count"] = 4294967295; },
         "/accessors/0: found 4294967295 elements"},
        {"component type unknown", [](Json& j) { j["accessors"][0]["componentType"] = 5124; },
         "/accessors/0/componentType: found 5124"},
        {"component type double", [](Json& j) { j["accessors"][0]["componentType"] = 5130; },
         "found 5130"},
        {"type unknown", [](Json& j) { j["accessors"][0]["type"] = "VEC5"; }, "found \"VEC5\""},
        {"type missing", [](Json& j) { j["accessors"][0].erase("type"); },
         "/accessors/0/type: found nothing"},
        {"type a matrix", [](Json& j) { j["accessors"][0]["type"] = "MAT4"; }, "SCALAR, VEC2"},
        {"positions of two", [](Json& j) { j["accessors"][0]["type"] = "VEC2"; },
         "an accessor of 2 components, expected VEC3"},
        {"normalised float", [](Json& j) { j["accessors"][0]["normalized"] = true; },
         "found true for FLOAT"},
        {"normalised a text", [](Json& j) { j["accessors"][0]["normalized"] = "no"; },
         "true or false"},
        {"quantised without saying so",
         [](Json& j) {
             j["accessors"][0]["componentType"] = i16;
             j["bufferViews"][0]["byteStride"] = 8;
         },
         "found SHORT components, expected FLOAT (integers need KHR_mesh_quantization)"},
        {"texture coordinates of whole bytes",
         [](Json& j) { j["accessors"][1]["componentType"] = u16; }, "found UNSIGNED_SHORT"},
        {"rows out of step",
         [](Json& j) {
             j["extensionsRequired"] = {"KHR_mesh_quantization"};
             j["accessors"][0]["componentType"] = i16;
         },
         "found elements every 6 bytes"},
        {"indices of floats",
         [](Json& j) {
             j["accessors"][2]["componentType"] = f32;
             j["accessors"][2]["count"] = 3;
         },
         "found FLOAT x 1, expected SCALAR of UNSIGNED"},
        {"indices signed", [](Json& j) { j["accessors"][2]["componentType"] = i16; },
         "found SHORT x 1"},
        {"indices in pairs",
         [](Json& j) {
             j["accessors"][2]["type"] = "VEC2";
             j["accessors"][2]["count"] = 3;
         },
         "UNSIGNED_SHORT x 2"},
        {"indices normalised", [](Json& j) { j["accessors"][2]["normalized"] = true; },
         "found normalised UNSIGNED_SHORT"},
        {"fewer normals than positions", [](Json& j) { j["accessors"][3]["count"] = 3; },
         "NORMAL: found 3 elements, expected one a position, 4"},
        {"fewer texture coordinates", [](Json& j) { j["accessors"][1]["count"] = 3; },
         "TEXCOORD_0: found 3 elements"},
        {"fewer positions than indices", [](Json& j) { j["accessors"][0]["count"] = 3; },
         "/indices: found index 3 at 5, expected a vertex, 0 to 2"},
        {"corners no multiple of 3", [](Json& j) { j["accessors"][2]["count"] = 5; },
         "found 5 corners, expected a multiple of 3"},
        {"a strip of two",
         [](Json& j) {
             j["accessors"][2]["count"] = 2;
             primitive(j)["mode"] = 5;
         },
         "found 2 corners, expected at least 3"},
        {"a billion triangles of nothing",
         [](Json& j) {
             primitive(j) = {{"attributes", {{"POSITION", 0}}}};
             j["accessors"][0].erase("bufferView");
             j["accessors"][0]["count"] = 4294967295;
         },
         "found 1431655765 triangles more, expected at most 50000000"},
        {"sparse a list", [](Json& j) { j["accessors"][0]["sparse"] = Json::array(); },
         "/accessors/0/sparse: found a list"},
        {"sparse of none",
         [](Json& j) {
             j["accessors"][0]["sparse"] = {{"count", 0}};
         },
         "/accessors/0/sparse/count: found 0"},
        {"sparse of more than there are",
         [](Json& j) {
             j["accessors"][0]["sparse"] = {{"count", 5}};
         },
         "1 to the accessor's 4"},
        {"sparse without indices",
         [](Json& j) {
             j["accessors"][0]["sparse"] = {{"count", 1}};
         },
         "/accessors/0/sparse/indices/componentType: found nothing"},
    };
    return out;
}

const std::vector<Wrong>& wrongs_of_sparse() {
    static const std::vector<Wrong> out = {
        {"indices of floats", [](Json& j) { j["accessors"][0]["sparse"] = sparse(2, f32, 0, 1); },
         "found FLOAT, expected an unsigned type"},
        {"indices not rising", [](Json& j) { j["accessors"][0]["sparse"] = sparse(2, u16, 0, 4); },
         "/accessors/0/sparse/indices: found 0 after 2, expected rising indices below 4"},
        {"index past the end", [](Json& j) { j["accessors"][0]["sparse"] = sparse(0, u32, 0, 2); },
         "rising indices below 4"},
        {"indices past the view",
         [](Json& j) { j["accessors"][0]["sparse"] = sparse(2, u32, 0, 4); },
         "/accessors/0/sparse/indices: found 4 elements up to byte 16"},
        {"values past the view",
         [](Json& j) { j["accessors"][0]["sparse"] = sparse(2, u16, 2, 2); },
         "/accessors/0/sparse/values: found 2 elements up to byte 24"},
        {"no such view", [](Json& j) { j["accessors"][0]["sparse"] = sparse(77, u16, 0, 2); },
         "/accessors/0/sparse/indices/bufferView: found 77"},
        {"values' view with stride",
         [](Json& j) {
             j["bufferViews"][4]["byteStride"] = 12;
             j["accessors"][0]["sparse"] = sparse(2, u16, 4, 2);
         },
         "a view with byteStride"},
    };
    return out;
}

} // namespace standpoint::gltf_samples
