// Setting the sizes of primitives: walks the tables that read and write them.
#include "desk/form_fields.h"

#include <functional>

#include <fmt/format.h>

#include "desk/figure_fields.h"
#include "scene/fields.h"

namespace standpoint {

namespace {

// What is called for each size of a form: its key, its label, and one of length and count.
using Visit = std::function<void(const std::string& key, const std::string& label, Length* length,
                                 int* count)>;

struct Walk {
    const Visit& visit;
    std::string key, label; // of what holds the member

    std::string key_of(const std::string& name) const {
        return key.empty() ? name : key + "/" + name;
    }
    std::string label_of(const std::string& name) const {
        return label.empty() ? title_of_name(name) : label + ", " + name;
    }
    void operator()(const std::string& name, const std::string& said, Length& length) const {
        visit(key_of(name), label_of(said), &length, nullptr);
    }
    void operator()(const std::string& name, const std::string& said, int& count) const {
        visit(key_of(name), label_of(said), nullptr, &count);
    }
};

std::string in_words(const char* key) {
    std::string words = std::string_view(key) == "from_left" ? "left" : key;
    for (char& c : words)
        if (c == '_') c = ' ';
    return words;
}

Walk within(const Walk& walk, const char* list, const char* item, std::size_t index) {
    return {walk.visit, walk.key_of(fmt::format("{}/{}", list, index)),
            walk.label_of(fmt::format("{} {}", item, index + 1))};
}

template <class T> void walk_fields(const Walk& walk, T& form);

void walk_points(const Walk& walk, const char* list, const char* item, const char* x, const char* y,
                 std::vector<PlanPoint>& points) {
    for (std::size_t i = 0; i < points.size(); ++i) {
        const Walk point = within(walk, list, item, i);
        point("x", x, points[i].x);
        point("y", y, points[i].y);
    }
}

template <class T> void walk_list(const Walk& walk, const char* list, T& form) {
    if constexpr (std::is_same_v<T, ExtrusionForm>)
        walk_points(walk, list, "corner", "across", "deep", form.outline);
    if constexpr (std::is_same_v<T, TurningForm>)
        walk_points(walk, list, "ring", "radius", "height", form.profile);
    if constexpr (std::is_same_v<T, FenceForm>)
        walk_points(walk, list, "post", "across", "deep", form.run);
}

template <class Owner, class Member>
void walk_field(const Walk& walk, Owner& owner, const Field<Owner, Member>& field) {
    if constexpr (std::is_same_v<Member, Length>) {
        walk(field.key, in_words(field.key), owner.*field.member);
    } else if constexpr (std::is_same_v<Member, int>) {
        if constexpr (std::is_same_v<Owner, StairsForm>)
            walk(field.key, in_words(field.key), owner.*field.member);
    } else if constexpr (std::is_same_v<Member, std::vector<PlanPoint>>) {
        walk_list(walk, field.key, owner);
    } else if constexpr (std::is_same_v<Member, std::vector<WallOpening>>) {
        auto& openings = owner.*field.member;
        for (std::size_t i = 0; i < openings.size(); ++i)
            walk_fields(within(walk, field.key, "opening", i), openings[i]);
    } else if constexpr (std::is_same_v<Member, std::vector<Length>>) {
        if constexpr (std::is_same_v<Owner, FenceForm>) {
            auto& rails = owner.*field.member;
            for (std::size_t i = 0; i < rails.size(); ++i)
                walk(fmt::format("{}/{}", field.key, i), fmt::format("rail {} height", i + 1),
                     rails[i]);
        }
    }
}

template <class T> void walk_fields(const Walk& walk, T& form) {
    std::apply([&](const auto&... field) { (walk_field(walk, form, field), ...); },
               Fields<T>::list);
}

void walk_form(Form& form, const Visit& visit) {
    std::visit(
        [&](auto& held) {
            using T = std::remove_reference_t<decltype(held)>;
            if constexpr (!std::is_same_v<T, ModelForm> && !std::is_same_v<T, FigureForm>)
                walk_fields(Walk{visit, "", ""}, held);
        },
        form);
}

// The edit that changes the form of one part.
Result<Edit> with_form(const Document& document, const std::string& id, std::size_t part,
                       const std::function<Status(Form&)>& change) {
    STANDPOINT_TRY_STATUS(check_movable(document, {id}));
    const Piece& piece = *find_piece(document, id);
    if (part >= piece.parts.size())
        return input_error("", fmt::format("found part {}, expected one of the {} of {}", part + 1,
                                           piece.parts.size(), in_quotes(spoken(piece))));
    Piece made = piece;
    STANDPOINT_TRY_STATUS(change(made.parts[part].form));
    const std::string label = "Resize " + spoken(piece);
    if (made == piece) return Edit(label, std::vector<EditStep>{});
    return Edit(label, ReplacePiece{id, std::make_shared<const Piece>(std::move(made))});
}

Error no_such_key(const std::string& key) {
    return input_error("", "found no size called " + in_quotes(key) + ", expected one of the form");
}

std::vector<PlanPoint>* points_of(Form& form) {
    if (auto* held = std::get_if<ExtrusionForm>(&form)) return &held->outline;
    if (auto* held = std::get_if<TurningForm>(&form)) return &held->profile;
    if (auto* held = std::get_if<FenceForm>(&form)) return &held->run;
    return nullptr;
}

// Carried on from the last two; of a turning, upwards.
PlanPoint next_point(const Form& form, const std::vector<PlanPoint>& points) {
    const PlanPoint& last = points.back();
    const PlanPoint& before = points[points.size() - 2];
    const double dx = last.x.mm - before.x.mm, dy = last.y.mm - before.y.mm;
    if (std::holds_alternative<TurningForm>(form))
        return {last.x.mm, last.y.mm + std::max(1.0, std::abs(dy))};
    // The outline closes from its last corner to its first: the new one lies between them.
    if (std::holds_alternative<ExtrusionForm>(form)) {
        const PlanPoint& first = points.front();
        const double outwards = 0.25;
        const double ex = first.x.mm - last.x.mm, ey = first.y.mm - last.y.mm;
        return {last.x.mm + ex / 2 + outwards * ey, last.y.mm + ey / 2 - outwards * ex};
    }
    return {last.x.mm + dx, last.y.mm + dy};
}

Status add_opening(WallForm& wall) {
    const double gap = wall.width.mm / 12;
    double left = gap, width = wall.width.mm / 4;
    WallOpening opening;
    opening.sill = wall.height.mm * 0.4;
    opening.height = wall.height.mm * 0.4;
    if (!wall.openings.empty()) {
        const WallOpening& last = wall.openings.back();
        left = last.from_left.mm + last.width.mm + gap;
        opening.sill = last.sill;
        opening.height = last.height;
    }
    width = std::min(width, wall.width.mm - gap - left);
    if (width <= gap / 2)
        return input_error("", "found no room for an opening beyond the last, expected some: make "
                               "the last one narrower or move it to the left");
    opening.from_left = left;
    opening.width = width;
    wall.openings.push_back(opening);
    return Done{};
}

} // namespace

std::vector<FormRow> form_rows(const Form& form) {
    std::vector<FormRow> rows;
    Form walked = form;
    walk_form(walked, [&](const std::string& key, const std::string& label, const Length* length,
                          const int* count) {
        rows.push_back({key, label, length ? length->mm : *count, count != nullptr});
    });
    return rows;
}

Result<Edit> set_form_length(const Document& document, const std::string& id, std::size_t part,
                             const std::string& key, const Length& value) {
    return with_form(document, id, part, [&](Form& form) -> Status {
        bool found = false;
        walk_form(form, [&](const std::string& k, const std::string&, Length* length, const int*) {
            if (k != key || !length) return;
            *length = value;
            found = true;
        });
        return found ? Status(Done{}) : Status(no_such_key(key));
    });
}

Result<Edit> set_form_count(const Document& document, const std::string& id, std::size_t part,
                            const std::string& key, int value) {
    return with_form(document, id, part, [&](Form& form) -> Status {
        bool found = false;
        walk_form(form, [&](const std::string& k, const std::string&, const Length*, int* count) {
            if (k != key || !count) return;
            *count = value;
            found = true;
        });
        return found ? Status(Done{}) : Status(no_such_key(key));
    });
}

std::string form_item(const Form& form) {
    if (std::holds_alternative<ExtrusionForm>(form)) return "corner";
    if (std::holds_alternative<TurningForm>(form)) return "ring";
    if (std::holds_alternative<FenceForm>(form)) return "post";
    if (std::holds_alternative<WallForm>(form)) return "opening";
    return "";
}

Result<Edit> add_form_item(const Document& document, const std::string& id, std::size_t part) {
    return with_form(document, id, part, [&](Form& form) -> Status {
        if (auto* wall = std::get_if<WallForm>(&form)) return add_opening(*wall);
        auto* points = points_of(form);
        if (!points) return input_error("", "found a form of one piece, expected one with points");
        points->push_back(next_point(form, *points));
        return Done{};
    });
}

Result<Edit> drop_form_item(const Document& document, const std::string& id, std::size_t part) {
    return with_form(document, id, part, [&](Form& form) -> Status {
        auto* wall = std::get_if<WallForm>(&form);
        auto* points = points_of(form);
        const std::size_t least = wall ? 1 : std::holds_alternative<ExtrusionForm>(form) ? 4 : 3;
        const std::size_t count = wall ? wall->openings.size() : points ? points->size() : 0;
        if (count < least)
            return input_error("", fmt::format("found {} {}s, expected one to spare", count,
                                               form_item(form)));
        if (wall)
            wall->openings.pop_back();
        else
            points->pop_back();
        return Done{};
    });
}

} // namespace standpoint
