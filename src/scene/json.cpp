// Scene files: JSON in and out.
#include "scene/json.h"

#include "scene/json_reader.h"
#include "scene/json_writer.h"

namespace standpoint {

namespace {

// What stands for the keys a file leaves out.
Document blank_document() {
    Document document;
    document.settings = std::make_shared<const Settings>();
    document.hall = std::make_shared<const Hall>();
    document.sections = std::make_shared<const std::vector<Section>>();
    document.join_lines = std::make_shared<const std::vector<JoinLine>>();
    document.reference_points = std::make_shared<const std::vector<ReferencePoint>>();
    document.path = std::make_shared<const Path>();
    document.visitors = std::make_shared<const std::vector<Visitor>>();
    document.rules = std::make_shared<const RuleChoice>();
    document.pieces = std::make_shared<const std::vector<std::shared_ptr<const Piece>>>();
    document.targets = std::make_shared<const std::vector<std::shared_ptr<const Target>>>();
    return document;
}

} // namespace

Result<Document> read_document(std::string_view json, const std::string& file) {
    STANDPOINT_TRY(root, read_json_tree(json, file));
    FieldReader reader(json, file, root);
    // The version first: a later one may well have keys that this one does not know.
    if (const JsonNode* version = root.find(version_key);
        version != nullptr && version->token != std::to_string(document_version)) {
        reader.fail(version->begin, "found version " + describe_found(*version) + ", expected " +
                                        std::to_string(document_version));
        return reader.error();
    }
    Document document = blank_document();
    if (!reader.read(root, document)) return reader.error();
    if (const Status valid = validate(document); !valid.ok()) {
        reader.fail(byte_of(root, valid.error().where), valid.error().message);
        return reader.error();
    }
    return document;
}

std::string write_document(const Document& document) {
    return lay_out(written(document));
}

} // namespace standpoint
