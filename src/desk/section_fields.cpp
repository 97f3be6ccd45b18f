// Setting the sections of the base, and the lines where they meet.
#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "desk/piece_ids.h"
#include "desk/scene_fields.h"

namespace standpoint {

namespace {

constexpr double touching_mm = 0.5;    // sides no farther apart meet
constexpr double shortest_join_mm = 1; // corners that touch are no join

using Sections = std::vector<Section>;
using Joins = std::vector<JoinLine>;

struct Sides {
    double low[2], high[2]; // x, y
};
Sides sides_of(const Section& s) {
    return {{s.corner.x.mm, s.corner.y.mm},
            {s.corner.x.mm + s.width.mm, s.corner.y.mm + s.depth.mm}};
}

// Edits of sections, with the join lines that follow from them.
Edit with_sections(const Document& document, const std::string& label, Sections made) {
    if (made == *document.sections) return Edit(label, std::vector<EditStep>{});
    Joins joins;
    if (*document.join_lines == joins_of(*document.sections)) {
        joins = joins_of(made);
    } else {
        std::set<std::string> ids;
        for (const Section& section : made)
            ids.insert(section.id);
        for (const JoinLine& line : *document.join_lines)
            if (ids.contains(line.between_a) && ids.contains(line.between_b)) joins.push_back(line);
    }
    std::vector<EditStep> steps;
    steps.push_back({SetSections{std::make_shared<const Sections>(std::move(made))}});
    if (joins != *document.join_lines)
        steps.push_back({SetJoinLines{std::make_shared<const Joins>(std::move(joins))}});
    return Edit(label, std::move(steps));
}

Status check_section(const Document& document, std::size_t index) {
    if (index < document.sections->size()) return Done{};
    return input_error("", fmt::format("found section {}, expected one of the {}", index + 1,
                                       document.sections->size()));
}

// "A" -> "B", "Z" -> "AA": the first that no section has.
std::string next_letter(const Sections& sections) {
    for (int n = 0;; ++n) {
        std::string name;
        for (int rest = n; rest >= 0; rest = rest / 26 - 1)
            name.insert(name.begin(), static_cast<char>('A' + rest % 26));
        if (std::none_of(sections.begin(), sections.end(),
                         [&](const Section& s) { return s.name == name; }))
            return name;
    }
}

} // namespace

std::vector<JoinLine> joins_of(const std::vector<Section>& sections) {
    Joins joins;
    for (std::size_t i = 0; i < sections.size(); ++i) {
        for (std::size_t j = i + 1; j < sections.size(); ++j) {
            const Sides a = sides_of(sections[i]), b = sides_of(sections[j]);
            for (const int axis : {0, 1}) { // the side they share stands across this axis
                const int along = 1 - axis;
                const double low = std::max(a.low[along], b.low[along]);
                const double high = std::min(a.high[along], b.high[along]);
                if (high - low < shortest_join_mm) continue;
                const bool a_first = std::abs(a.high[axis] - b.low[axis]) <= touching_mm;
                const bool b_first = std::abs(b.high[axis] - a.low[axis]) <= touching_mm;
                if (!a_first && !b_first) continue;
                const double at = a_first ? a.high[axis] : b.high[axis];
                const PlanPoint from = axis == 0 ? PlanPoint{at, low} : PlanPoint{low, at};
                const PlanPoint to = axis == 0 ? PlanPoint{at, high} : PlanPoint{high, at};
                joins.push_back({sections[i].id, sections[j].id, from, to});
            }
        }
    }
    return joins;
}

Result<Edit> set_section(const Document& document, std::size_t index, const Section& section) {
    STANDPOINT_TRY_STATUS(check_section(document, index));
    Sections made = *document.sections;
    made[index] = section;
    return with_sections(document, "Change section " + section.name, std::move(made));
}

Result<Edit> add_section(const Document& document) {
    Sections made = *document.sections;
    Section section;
    section.width = 3000; // as the base of a new scene
    section.depth = 1800;
    section.height = 150;
    if (!made.empty()) {
        section = made.back();
        section.corner.x = made.back().corner.x.mm + made.back().width.mm;
    }
    section.name = next_letter(made);
    std::string id = "section-" + section.name;
    std::transform(id.begin(), id.end(), id.begin(),
                   [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c; });
    section.id = unique_id(taken_ids(document), id);
    const std::string label = "Add section " + section.name;
    made.push_back(std::move(section));
    return with_sections(document, label, std::move(made));
}

Result<Edit> remove_section(const Document& document, std::size_t index) {
    STANDPOINT_TRY_STATUS(check_section(document, index));
    Sections made = *document.sections;
    const Section gone = made[index];
    if (made.size() == 1)
        return input_error("", "found the last section, expected another to be left as the base");
    for (const auto& piece : *document.pieces)
        if (piece->support == Support::section && piece->host == gone.id)
            return input_error("", "found " + in_quotes(spoken(*piece)) + " standing on section " +
                                       gone.name + ", expected nothing on it");
    made.erase(made.begin() + static_cast<std::ptrdiff_t>(index));
    return with_sections(document, "Take away section " + gone.name, std::move(made));
}

} // namespace standpoint
