// The sizes of primitives: every one can be set, each by itself, and the lists grow and shrink.
#include <doctest/doctest.h>

#include <set>

#include "desk/arranged.h"
#include "desk/form_fields.h"
#include "desk/library.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

class NoFolders : public FolderListing {
  public:
    Result<std::vector<FolderEntry>> list(const std::string&) const override {
        return std::vector<FolderEntry>{};
    }
};

Document with_form(const Form& form) {
    Piece piece = box_piece("it", 0, 0, 0, 1, 1, 1);
    piece.parts[0].form = form;
    return with_piece(bare_scene(), piece);
}

// Every primitive of the library.
std::vector<Form> primitives() {
    auto entries = library_of(bare_scene(), "", NoFolders());
    REQUIRE(entries.ok());
    std::vector<Form> forms;
    for (const LibraryEntry& entry : *entries)
        if (entry.kind == LibraryKind::primitive) forms.push_back(entry.form);
    return forms;
}

const Form& form_of(const Document& document) {
    return find_piece(document, "it")->parts[0].form;
}

std::optional<double> value_of(const Form& form, const std::string& key) {
    for (const FormRow& row : form_rows(form))
        if (row.key == key) return row.value;
    return std::nullopt;
}

} // namespace

TEST_CASE("each size of each primitive is set by itself, and put back it is the same form") {
    std::set<std::string> kinds;
    for (const Form& form : primitives()) {
        const std::string kind = form_names[form.index()];
        CAPTURE(kind);
        kinds.insert(kind);
        const Document document = with_form(form);
        const std::vector<FormRow> rows = form_rows(form);
        REQUIRE_FALSE(rows.empty());
        std::set<std::string> labels;
        for (const FormRow& row : rows) {
            CAPTURE(row.key);
            CHECK(labels.insert(row.label).second);
            if (row.count) {
                const Document more =
                    done(document, set_form_count(document, "it", 0, row.key, 7));
                CHECK(value_of(form_of(more), row.key) == 7);
                CHECK(form_of(done(more, set_form_count(more, "it", 0, row.key,
                                                         static_cast<int>(row.value)))) == form);
                CHECK_FALSE(set_form_length(document, "it", 0, row.key, 7).ok());
                continue;
            }
            CHECK_FALSE(set_form_count(document, "it", 0, row.key, 7).ok());
            const double another = row.value == 0 ? 0.5 : row.value * 1.01;
            const Result<Edit> edit = set_form_length(document, "it", 0, row.key, another);
            REQUIRE(edit.ok());
            CHECK(edit->steps.size() == 1);
            const Document made = done(document, edit);
            CHECK(value_of(form_of(made), row.key) == another);
            int differing = 0;
            const std::vector<FormRow> now = form_rows(form_of(made));
            for (std::size_t i = 0; i < rows.size(); ++i)
                differing += now[i].value != rows[i].value ? 1 : 0;
            CHECK(differing == 1);
            CHECK(form_of(done(made, set_form_length(made, "it", 0, row.key, row.value))) == form);
        }
    }
    CHECK(kinds.size() == 11); // all but models and figures
}

TEST_CASE("a size that cannot be is refused, and so are locked pieces and unknown parts") {
    const Document document = with_form(BoxForm{10, 20, 30});
    CHECK(set_form_length(document, "it", 0, "width", 10)->steps.empty());
    const Result<Edit> none = set_form_length(document, "it", 0, "width", 0);
    REQUIRE(none.ok());
    CHECK_FALSE(apply(document, *none).ok());
    CHECK_FALSE(set_form_length(document, "it", 0, "girth", 5).ok());
    CHECK_FALSE(set_form_length(document, "it", 1, "width", 5).ok());
    CHECK_FALSE(set_form_length(document, "other", 0, "width", 5).ok());
    Piece locked = *find_piece(document, "it");
    locked.id = "kept";
    locked.locked = true;
    CHECK_FALSE(set_form_length(with_piece(document, locked), "kept", 0, "width", 5).ok());
    CHECK(form_rows(ModelForm{"a.glb", 1000}).empty());
    CHECK(form_rows(FigureForm{}).empty());
}

TEST_CASE("corners, rings, posts and openings are added and taken away down to the fewest") {
    for (const Form& form : primitives()) {
        CAPTURE(form_names[form.index()]);
        Document document = with_form(form);
        const std::size_t before = form_rows(form).size();
        if (form_item(form).empty()) {
            CHECK_FALSE(add_form_item(document, "it", 0).ok());
            CHECK_FALSE(drop_form_item(document, "it", 0).ok());
            continue;
        }
        document = done(document, add_form_item(document, "it", 0));
        const std::size_t each = form_item(form) == "opening" ? 4 : 2;
        CHECK(form_rows(form_of(document)).size() == before + each);
        document = done(document, drop_form_item(document, "it", 0));
        CHECK(form_of(document) == form);
        int dropped = 0;
        for (; dropped < 20; ++dropped) {
            const Result<Edit> edit = drop_form_item(document, "it", 0);
            if (!edit.ok()) break;
            document = done(document, edit); // the fewest is still a form
        }
        CHECK(dropped < 20);
        const Result<Edit> last = drop_form_item(document, "it", 0);
        CHECK_FALSE(last.ok());
    }
}

TEST_CASE("a wall takes openings until there is no room beyond the last") {
    Document document = with_form(WallForm{240, 12, 220, {}});
    int taken = 0;
    for (; taken < 20; ++taken) {
        const Result<Edit> edit = add_form_item(document, "it", 0);
        if (!edit.ok()) break;
        document = done(document, edit);
    }
    CHECK(taken >= 2);
    CHECK(taken < 5);
}
