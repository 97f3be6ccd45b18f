// Ways to break a glTF file in its meshes, nodes and materials.
#include "shape/gltf_corpus.h"

namespace standpoint::gltf_samples {

namespace {

Json& primitive(Json& j) {
    return j["meshes"][0]["primitives"][0];
}

Json& base_colour(Json& j) {
    return j["materials"][0]["pbrMetallicRoughness"];
}

} // namespace

const std::vector<Wrong>& wrongs_of_meshes() {
    static const std::vector<Wrong> out = {
        {"meshes a text", [](Json& j) { j["meshes"] = "all"; }, "/meshes: found \"all\""},
        {"no primitives", [](Json& j) { j["meshes"][0].erase("primitives"); },
         "/meshes/0/primitives: found nothing, expected at least one"},
        {"primitives empty", [](Json& j) { j["meshes"][0]["primitives"] = Json::array(); },
         "found a list of 0"},
        {"primitive a number", [](Json& j) { primitive(j) = 1; },
         "/meshes/0/primitives/0: found 1"},
        {"no position", [](Json& j) { primitive(j)["attributes"].erase("POSITION"); },
         "/attributes/POSITION: found nothing"},
        {"position a text", [](Json& j) { primitive(j)["attributes"]["POSITION"] = "0"; },
         "/attributes/POSITION: found \"0\", expected an index into accessors, 0 to 3"},
        {"position negative", [](Json& j) { primitive(j)["attributes"]["POSITION"] = -1; },
         "found -1"},
        {"indices out of range", [](Json& j) { primitive(j)["indices"] = 4; },
         "/indices: found 4, expected an index into accessors"},
        {"mode 7", [](Json& j) { primitive(j)["mode"] = 7; }, "/mode: found 7, expected 0 to 6"},
        {"material out of range", [](Json& j) { primitive(j)["material"] = 3; },
         "/material: found 3, expected an index into materials, 0 to 0"},
        {"only lines", [](Json& j) { primitive(j)["mode"] = 1; },
         "found no triangles in the scene, expected at least one"},
        {"no coordinates for the texture",
         [](Json& j) { primitive(j)["attributes"].erase("TEXCOORD_0"); },
         "/attributes/TEXCOORD_0: found nothing, expected the coordinates"},
        {"no nodes", [](Json& j) { j.erase("nodes"); }, "found no triangles"},
    };
    return out;
}

const std::vector<Wrong>& wrongs_of_nodes() {
    static const std::vector<Wrong> out = {
        {"node a number", [](Json& j) { j["nodes"][0] = 5; }, "/nodes/0: found 5"},
        {"mesh a text", [](Json& j) { j["nodes"][0]["mesh"] = "0"; },
         "/nodes/0/mesh: found \"0\", expected an index into meshes, 0 to 0"},
        {"mesh out of range", [](Json& j) { j["nodes"][0]["mesh"] = 1; }, "/nodes/0/mesh: found 1"},
        {"child out of range", [](Json& j) { j["nodes"][0]["children"] = {1}; },
         "/nodes/0/children/0: found 1"},
        {"own child", [](Json& j) { j["nodes"][0]["children"] = {0}; }, "/nodes/0: found a cycle"},
        {"cycle of three",
         [](Json& j) {
             j["nodes"].push_back({{"children", {2}}});
             j["nodes"].push_back({{"children", {3}}});
             j["nodes"].push_back({{"children", {1}}});
         },
         "found a cycle of children"},
        {"two parents",
         [](Json& j) {
             j["nodes"].push_back({{"children", {0}}});
             j["nodes"].push_back({{"children", {0}}});
         },
         "/nodes/2/children: found node 0, already a child of node 1"},
        {"the same child twice",
         [](Json& j) {
             j["nodes"].push_back({{"children", {0, 0}}});
         },
         "already a child"},
        {"matrix of 15", [](Json& j) { j["nodes"][0]["matrix"] = std::vector<double>(15, 1.0); },
         "/nodes/0/matrix: found a list of 15, expected a list of 16 numbers"},
        {"matrix with a text",
         [](Json& j) {
             j["nodes"][0]["matrix"] = std::vector<double>(16, 1.0);
             j["nodes"][0]["matrix"][3] = "0";
         },
         "/nodes/0/matrix/3: found \"0\""},
        {"matrix in perspective",
         [](Json& j) {
             j["nodes"][0]["matrix"] = {1, 0, 0, 0.5, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1};
         },
         "a fourth row other than 0 0 0 1"},
        {"matrix and scale",
         [](Json& j) {
             j["nodes"][0]["matrix"] = {1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1};
             j["nodes"][0]["scale"] = {1, 1, 1};
         },
         "one or the other"},
        {"rotation of 3",
         [](Json& j) {
             j["nodes"][0]["rotation"] = {0, 0, 1};
         },
         "a list of 4"},
        {"rotation of length 2",
         [](Json& j) {
             j["nodes"][0]["rotation"] = {0, 0, 2, 0};
         },
         "a quaternion of length 2, expected length 1"},
        {"rotation of nothing",
         [](Json& j) {
             j["nodes"][0]["rotation"] = {0, 0, 0, 0};
         },
         "a quaternion of length 0"},
        {"scale beyond numbers",
         [](Json& j) {
             j["nodes"][0]["scale"] = {1e200, 1e200, 1e200};
         },
         "a transform beyond all numbers"},
        {"moved beyond the horizon",
         [](Json& j) {
             j["nodes"][0]["translation"] = {1e6, 0, 0};
         },
         "mm from the origin, expected at most 10000000"},
        {"name a number", [](Json& j) { j["nodes"][0]["name"] = 3; }, "/nodes/0/name: found 3"},
        {"scene out of range", [](Json& j) { j["scene"] = 0; }, "/scene: found 0"},
        {"scene of a child",
         [](Json& j) {
             j["nodes"].push_back({{"children", {0}}});
             j["scene"] = 0;
             j["scenes"] = {{{"nodes", {0}}}};
         },
         "/scenes/0/nodes: found node 0, a child of node 1, expected root nodes"},
        {"scene with a node twice",
         [](Json& j) {
             j["scene"] = 0;
             j["scenes"] = {{{"nodes", {0, 0}}}};
         },
         "found node 0 twice"},
        {"scene's node out of range",
         [](Json& j) {
             j["scene"] = 0;
             j["scenes"] = {{{"nodes", {8}}}};
         },
         "/scenes/0/nodes/0: found 8"},
        {"empty scene",
         [](Json& j) {
             j["scene"] = 0;
             j["scenes"] = Json::array({Json::object()});
         },
         "found no triangles"},
        {"a chain of 1025",
         [](Json& j) {
             for (int i = 1; i <= 1024; ++i) {
                 j["nodes"].push_back(Json::object());
                 j["nodes"][static_cast<std::size_t>(i) - 1]["children"] = {i};
             }
         },
         "a node 1025 levels deep, expected at most 1024"},
    };
    return out;
}

const std::vector<Wrong>& wrongs_of_materials() {
    static const std::vector<Wrong> out = {
        {"material a list", [](Json& j) { j["materials"][0] = Json::array(); },
         "/materials/0: found a list"},
        {"colour of 3",
         [](Json& j) {
             base_colour(j)["baseColorFactor"] = {1, 1, 1};
         },
         "baseColorFactor: found a list of 3, expected a list of 4 numbers"},
        {"colour above 1",
         [](Json& j) {
             base_colour(j)["baseColorFactor"] = {1, 2, 1, 1};
         },
         "baseColorFactor/1: found 2, expected a number from 0 to 1"},
        {"texture out of range", [](Json& j) { base_colour(j)["baseColorTexture"]["index"] = 1; },
         "baseColorTexture/index: found 1"},
        {"texture without index",
         [](Json& j) { base_colour(j)["baseColorTexture"].erase("index"); },
         "found nothing, expected the index of a texture"},
        {"texture without source", [](Json& j) { j["textures"][0].erase("source"); },
         "/textures/0/source: found nothing, expected the index of a PNG or JPEG"},
        {"source out of range", [](Json& j) { j["textures"][0]["source"] = 1; },
         "/textures/0/source: found 1"},
        {"sampler out of range", [](Json& j) { j["textures"][0]["sampler"] = 0; },
         "/textures/0/sampler: found 0, expected no index"},
        {"wrapping unknown",
         [](Json& j) {
             j["textures"][0]["sampler"] = 0;
             j["samplers"] = {{{"wrapS", 7}}};
         },
         "/samplers/0/wrapS: found 7"},
        {"alpha mode unknown", [](Json& j) { j["materials"][0]["alphaMode"] = "GLASS"; },
         "found \"GLASS\", expected OPAQUE, MASK or BLEND"},
        {"cutoff negative", [](Json& j) { j["materials"][0]["alphaCutoff"] = -1; },
         "/materials/0/alphaCutoff: found -1"},
        {"two-sided a number", [](Json& j) { j["materials"][0]["doubleSided"] = 1; },
         "found 1, expected true or false"},
        {"transmission of 2",
         [](Json& j) {
             j["materials"][0]["extensions"]["KHR_materials_transmission"] = {
                 {"transmissionFactor", 2}};
         },
         "transmissionFactor: found 2"},
        {"coordinates thrown far",
         [](Json& j) {
             base_colour(j)["baseColorTexture"]["extensions"]["KHR_texture_transform"] = {
                 {"scale", {1e9, 1}}};
         },
         "a texture coordinate beyond 1000000"},
        {"image with both", [](Json& j) { j["images"][0]["uri"] = "a.png"; },
         "/images/0: found both uri and bufferView"},
        {"image with neither", [](Json& j) { j["images"][0].erase("bufferView"); },
         "/images/0: found neither"},
        {"image that is none", [](Json& j) { j["images"][0]["bufferView"] = 0; },
         "/images/0: found bytes that are no image known here, expected PNG or JPEG"},
        {"image cut short", [](Json& j) { j["bufferViews"][3]["byteLength"] = 60; },
         "/images/0: found a PNG that cannot be decoded"},
        {"image's view out of range", [](Json& j) { j["bufferViews"][3]["byteOffset"] = 1000000; },
         "/bufferViews/3: found bytes"},
        {"image outside",
         [](Json& j) {
             j["images"][0] = {{"uri", "../a.png"}};
         },
         "/images/0/uri: "},
        {"image missing",
         [](Json& j) {
             j["images"][0] = {{"uri", "a.png"}};
         },
         "/images/0/uri: found \"a.png\" unreadable"},
    };
    return out;
}

} // namespace standpoint::gltf_samples
