// The sight strip: a row a target, the distance along the path across, and the way's width below.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <imgui.h>

#include "window/answers.h"
#include "window/overlay.h"
#include "window/panels.h"
#include "window/view_input.h"

namespace standpoint {

namespace {

constexpr float row_ems = 1.15f, widths_ems = 2.2f; // heights

struct StripPlace { // where the cells of a row lie, pixels
    float left = 0, width = 1;
    float share = 0;   // width of the column before them; 0: it has no room
    bool where = true; // the place of the visitor stands beside the controls, not over the names
    double length = 1; // of the path, mm
    float x(double distance) const { return left + width * static_cast<float>(distance / length); }
};

// Lightness carries the value, so that the strip reads in grey: dark is seen (or, of something to
// hide, shows). What is wrong for the aim gets the failing hue.
Colour cell_colour(const Palette& p, const StripRow& row, const StripCell& cell) {
    const Colour full = row.aim == Aim::see ? p.picked : p.fail;
    return mixed(p.field, full, 0.06 + 0.94 * std::clamp(cell.value, 0.0, 1.0));
}

void scrub_to(Shell& shell, const StripPlace& place, const std::string& target) {
    const double share = std::clamp(
        (ImGui::GetIO().MousePos.x - place.left) / std::max(1.0f, place.width), 0.0f, 1.0f);
    shell.scrub.distance_mm = share * place.length;
    if (!target.empty()) shell.scrub.look_at = target;
    follow_visitor(shell);
}

void row_tip(const Shell& shell, const StripPlace& place, const StripRow& row) {
    const double distance =
        (ImGui::GetIO().MousePos.x - place.left) / std::max(1.0f, place.width) * place.length;
    const auto cell = cell_at(row, distance);
    if (!cell || !shell.answers.outcome) return;
    std::string words;
    for (const std::string& line : cell_words(*shell.answers.outcome, row, *cell))
        words += (words.empty() ? "" : "\n") + line;
    tip(words);
}

void draw_cells(const Shell&, const Ui& ui, const StripPlace& place, const StripRow& row, float y,
                float h) {
    ImDrawList* list = ImGui::GetWindowDrawList();
    for (const StripCell& cell : row.cells)
        list->AddRectFilled({place.x(cell.from), y}, {place.x(cell.to), y + h},
                            packed(cell_colour(*ui.palette, row, cell)));
    list->AddRect({place.left, y}, {place.left + place.width, y + h}, packed(ui.palette->rule));
}

void toggle_fold(Shell& shell, const std::string& target) {
    auto& open = shell.unfolded;
    const auto found = std::find(open.begin(), open.end(), target);
    if (found == open.end())
        open.push_back(target);
    else
        open.erase(found);
    if (shell.answers.outcome && shell.answers.outcome->has_sights())
        shell.answers.rows = strip_rows(*shell.answers.outcome, open);
}

void draw_row(Shell& shell, const Ui& ui, const StripPlace& place, const StripRow& row,
              std::size_t index) {
    const float h = ui.em * row_ems;
    const ImVec2 low = ImGui::GetCursorScreenPos();
    ImGui::PushID(static_cast<int>(index));
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {0, 0}); // a row ends where the next begins
    const bool folded = row.visitor.empty();
    const std::string name =
        folded ? spoken(row.name, row.target) : "    " + spoken(row.visitor_name, row.visitor);
    if (ImGui::Selectable("##name", shell.scrub.look_at == row.target && folded, 0,
                          {place.left - low.x - place.share, h}))
        toggle_fold(shell, row.target);
    tag_item(ui, fmt::format("strip/name{}", index));
    if (shell.answers.outcome)
        tip(strip_row_words(*shell.answers.outcome, row) + "\nPress to show each visitor.");
    ImDrawList* list = ImGui::GetWindowDrawList();
    const std::string share = share_words(row);
    const float beside = place.share > 0 ? text_width(share) + ui.em : ui.em * 0.5f;
    list->AddText(low, packed(folded ? ui.palette->ink : ui.palette->ink_quiet),
                  shortened(name, place.left - beside - low.x).c_str());
    if (place.share > 0)
        list->AddText({place.left - ui.em * 0.5f - text_width(share), low.y},
                      packed(ui.palette->ink_quiet), share.c_str());
    ImGui::SetCursorScreenPos({place.left, low.y});
    ImGui::InvisibleButton("cells", {place.width, h});
    tag_item(ui, fmt::format("strip/row{}", index));
    if (ImGui::IsItemActive())
        scrub_to(shell, place, row.target);
    else
        row_tip(shell, place, row);
    draw_cells(shell, ui, place, row, low.y + 1, h - 2);
    ImGui::SetCursorScreenPos({low.x, low.y + h});
    ImGui::PopStyleVar();
    ImGui::PopID();
}

// Where the visitor stands, in as many words as have room.
std::string where_words(const Shell& shell, float room) {
    const char* lanes[] = {"left", "middle", "right"};
    const std::string at = length_text(shell.desk->history.now(), shell.scrub.distance_mm);
    const char* lane = lanes[shell.scrub.lane];
    for (const std::string& words :
         {fmt::format("at {} on the {} lane", at, lane), fmt::format("{}, {} lane", at, lane),
          fmt::format("{}, {}", at, lane)})
        if (text_width(words) <= room) return words;
    return shortened(at, room);
}

struct State {
    const char* words = "";
    Colour colour;
};

State state_of(const Shell& shell, const Palette& colours) {
    const auto& outcome = shell.answers.outcome;
    if (outcome && outcome->revision != shell.desk->revision)
        return {"stale: the scene has changed", colours.warn};
    if (outcome && !outcome->has_sights() && !outcome->error)
        return {"sight lines are being traced", colours.warn};
    if (outcome && outcome->rough()) return {"rough, a first answer", colours.warn};
    return {outcome ? "" : "not checked yet", colours.ink_quiet};
}

// Over the names: where the visitor stands when that has no room above; else what the answers are
// worth when they are not the last word, or what the figures of the axis are.
void draw_corner(const Shell& shell, const Ui& ui, const StripPlace& place, const ImVec2& low) {
    const State state = state_of(shell, *ui.palette);
    const float room = place.left - low.x - ui.em * 0.8f;
    const char* axis = "metres along the path";
    std::string words = text_width(axis) <= room ? axis : "metres";
    if (*state.words) words = state.words;
    if (!place.where) words = where_words(shell, room);
    ImGui::GetWindowDrawList()->AddText(low, packed(state.colour), shortened(words, room).c_str());
    tag_rect(ui, place.where ? "strip/state" : "strip/where", {low.x, low.y},
             {low.x + room, low.y + ui.em * 1.1f});
}

void draw_axis(Shell& shell, const Ui& ui, const StripPlace& place) {
    const ImVec2 low = ImGui::GetCursorScreenPos();
    const float h = ui.em * 1.2f;
    ImGui::SetCursorScreenPos({place.left, low.y});
    ImGui::InvisibleButton("axis", {place.width, h});
    tag_item(ui, "strip/axis");
    if (ImGui::IsItemActive()) scrub_to(shell, place, "");
    ImDrawList* list = ImGui::GetWindowDrawList();
    const double step = grid_step_mm(place.length / place.width, ui.em * 2.5);
    for (double d = 0; d <= place.length + 1; d += step) {
        list->AddLine({place.x(d), low.y}, {place.x(d), low.y + h * 0.25f},
                      packed(ui.palette->frame));
        const std::string text = fmt::format("{:g}", d / 1000);
        list->AddText({place.x(d) - ImGui::CalcTextSize(text.c_str()).x / 2, low.y + h * 0.2f},
                      packed(ui.palette->ink_quiet), text.c_str());
    }
    draw_corner(shell, ui, place, low);
    ImGui::SetCursorScreenPos({low.x, std::ceil(low.y + h)}); // rows scroll by whole pixels
}

// How wide the way is: bars from below, the limit as a line.
void draw_widths(Shell& shell, const Ui& ui, const StripPlace& place) {
    const WidthStrip& widths = shell.answers.widths;
    if (widths.cells.empty()) return;
    const ImVec2 low = ImGui::GetCursorScreenPos();
    const float h = ui.em * widths_ems;
    ImGui::SetCursorScreenPos({place.left, low.y});
    ImGui::InvisibleButton("widths", {place.width, h});
    tag_item(ui, "strip/widths");
    const double at = (ImGui::GetIO().MousePos.x - place.left) / place.width * place.length;
    if (ImGui::IsItemActive()) scrub_to(shell, place, "");
    ImDrawList* list = ImGui::GetWindowDrawList();
    const double most = std::max(1.0, widths.path_width);
    const auto y = [&](double width) { return low.y + h - h * static_cast<float>(width / most); };
    for (std::size_t i = 0; i < widths.cells.size(); ++i) {
        const WidthCell& cell = widths.cells[i];
        list->AddRectFilled({place.x(cell.from), y(cell.at.width)}, {place.x(cell.to), low.y + h},
                            packed(cell.narrow || cell.low
                                       ? ui.palette->fail
                                       : mixed(ui.palette->field, ui.palette->path, 0.45)));
        if (at >= cell.from && at < cell.to && ImGui::IsItemHovered() && !ImGui::IsItemActive()) {
            std::string words;
            for (const std::string& line : width_words(*shell.answers.outcome, widths, i))
                words += (words.empty() ? "" : "\n") + line;
            tip(words);
        }
    }
    if (widths.limit > 0)
        list->AddLine({place.left, y(widths.limit)}, {place.left + place.width, y(widths.limit)},
                      packed(ui.palette->ink), 1);
    list->AddRect({place.left, low.y}, {place.left + place.width, low.y + h},
                  packed(ui.palette->rule));
    const float before = place.left - low.x - ui.em * 0.5f;
    list->AddText(low, packed(ui.palette->ink), shortened("Width of the way", before).c_str());
    if (widths.narrowest) {
        const std::string least =
            "least " + length_text(shell.desk->history.now(), widths.narrowest->width);
        list->AddText({low.x, low.y + ui.em}, packed(ui.palette->ink_quiet),
                      shortened(least, before).c_str());
    }
    ImGui::SetCursorScreenPos({low.x, low.y + h + 3});
}

void visitor_choice(Shell& shell, const Ui& ui, float width) {
    const Document& document = shell.desk->history.now();
    const Visitor* now = find_visitor(document, shell.scrub.visitor);
    ImGui::SetNextItemWidth(width);
    const bool open =
        ImGui::BeginCombo("##visitor", now ? spoken(now->name, now->id).c_str() : "no visitor");
    tag_item(ui, "strip/visitor");
    if (open) {
        for (const Visitor& visitor : *document.visitors)
            if (ImGui::Selectable(spoken(visitor.name, visitor.id).c_str())) {
                shell.scrub.visitor = visitor.id;
                follow_visitor(shell);
            }
        ImGui::EndCombo();
    }
    tip("Whose eyes the eye view shows. V: the next one");
}

// Visitor, steps and lane, and where they stand. False when that has no room.
bool visitor_row(Shell& shell, const Ui& ui) {
    const float room = ImGui::GetContentRegionAvail().x, gap = ui.em * 0.5f;
    const float buttons = button_width("<") + button_width(">") + button_width("Lane") + 3 * gap;
    const float words = text_width("00000 mm, middle") + gap, least = ui.em * 6;
    const float start = ImGui::GetCursorScreenPos().x;
    const bool where = room >= least + buttons + words;
    const float left = room - buttons - (where ? words : 0);
    visitor_choice(shell, ui, std::clamp(left, std::min(least, room), ui.em * 12));
    ImGui::SameLine(0, gap);
    if (button(ui, "strip/back", "<")) act(shell, Action::walk_back);
    tip("A step back along the path");
    ImGui::SameLine(0, gap);
    if (button(ui, "strip/on", ">")) act(shell, Action::walk_on);
    tip("A step on along the path");
    ImGui::SameLine(0, gap);
    if (button(ui, "strip/lane", "Lane")) act(shell, Action::next_lane);
    tip("To the left, middle or right lane of the path");
    if (!where) return false;
    const float beside = start + room - ImGui::GetItemRectMax().x - gap;
    ImGui::SameLine(0, gap);
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(where_words(shell, beside).c_str());
    tag_item(ui, "strip/where");
    tip(where_words(shell, 1e9f));
    return true;
}

// Names, shares and cells side by side, `room` pixels in all.
StripPlace place_of(const Shell& shell, const Ui& ui, const std::vector<StripRow>& rows,
                    float room) {
    StripPlace place;
    for (const StripRow& row : rows)
        place.share = std::max(place.share, text_width(share_words(row)) + ui.em);
    float names = std::min(ui.em * 20, room * 0.42f);
    if (names - place.share < ui.em * 5) { // a name that can be told from the others comes first
        place.share = 0;
        names = std::min(ui.em * 7.5f, room * 0.46f);
    }
    place.left = ImGui::GetCursorScreenPos().x + names;
    place.width = std::max(10.0f, room - names - ui.em * 0.6f); // half of the last figure
    place.length = std::max(1.0, path_length(*shell.desk->history.now().path));
    return place;
}

// The visitor's place across what was drawn since `top`.
void draw_place(const Shell& shell, const Ui& ui, const StripPlace& place, float top) {
    const float x = place.x(shell.scrub.distance_mm);
    ImGui::GetWindowDrawList()->AddLine({x, top}, {x, ImGui::GetCursorScreenPos().y},
                                        packed(ui.palette->ink), 1.5f);
}

void draw_rows(Shell& shell, const Ui& ui, const StripPlace& place,
               const std::vector<StripRow>& rows, float height) {
    ImGui::BeginChild("rows", {0, height});
    const float top = ImGui::GetCursorScreenPos().y;
    for (std::size_t i = 0; i < rows.size(); ++i)
        draw_row(shell, ui, place, rows[i], i);
    draw_place(shell, ui, place, top);
    ImGui::EndChild();
}

} // namespace

void draw_strip(Shell& shell, const Ui& ui) {
    const bool where = visitor_row(shell, ui);
    // Each target has its row from the first, so that nothing moves when the answers come.
    const std::vector<StripRow> rows = shell.answers.rows.empty()
                                           ? waiting_rows(shell.desk->history.now())
                                           : shell.answers.rows; // folding may replace them
    // The axis above and the widths below stay in sight while the rows between them scroll.
    const float row = ui.em * row_ems, spacing = ImGui::GetStyle().ItemSpacing.y;
    const float all = row * static_cast<float>(rows.size());
    const float between =
        ImGui::GetContentRegionAvail().y - ui.em * (1.2f + widths_ems) - 2 * spacing - 4;
    const float whole = std::floor(between / row) * row; // no row is cut through
    const float shown = std::min(all, std::max(whole, row * 3));
    const float bar = all > shown + 1 ? ImGui::GetStyle().ScrollbarSize : 0;
    StripPlace place = place_of(shell, ui, rows, ImGui::GetContentRegionAvail().x - bar);
    place.where = where;
    const float top = ImGui::GetCursorScreenPos().y;
    draw_axis(shell, ui, place);
    draw_place(shell, ui, place, top);
    if (shell.desk->history.now().targets->empty()) {
        quiet_text(ui, "Pick a piece and press Must be seen: it gets a row here.");
        tag_item(ui, "strip/empty");
    }
    if (!rows.empty()) draw_rows(shell, ui, place, rows, shown);
    const float below = ImGui::GetCursorScreenPos().y;
    draw_widths(shell, ui, place);
    draw_place(shell, ui, place, below - spacing);
}

} // namespace standpoint
