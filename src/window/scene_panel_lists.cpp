// Lists of the scene: each row with its fields, and buttons to add and take away.
#include "window/scene_panel.h"

#include <fmt/format.h>
#include <imgui.h>

#include "desk/typed.h"
#include "figure/anthropometry.h"
#include "window/answers.h"
#include "window/piece_rows.h"

namespace standpoint {

namespace {

// "-1500, 3200": bare numbers are read as they are shown.
std::string point_shown(const Document& document, const PlanPoint& point) {
    const auto shown = [&](double mm) {
        std::string text = length_shown(document, mm);
        if (text.ends_with(" mm")) text.erase(text.size() - 3);
        return text;
    };
    return shown(point.x.mm) + ", " + shown(point.y.mm);
}

struct Typed {
    Shell& shell;
    const Ui& ui;
    std::string prefix; // of the tags
};

// A field of a length that is part of a larger value; `take` makes the edit of the new length.
template <class Take>
void length_field(const Typed& in, const char* label, const char* key, const Length& now,
                  const char* about, const Take& take) {
    const Document& document = in.shell.desk->history.now();
    const std::string name = in.prefix + key;
    const auto typed =
        typed_row(in.shell, in.ui, {label, name.c_str(), length_shown(document, now.mm), about});
    if (!typed) return;
    const auto value = typed_length(*typed, now, document.settings->units);
    if (!value.ok()) return refuse(in.shell, name.c_str(), *typed, value.error());
    take_typed(in.shell, name.c_str(), *typed, take(*value));
}

template <class Take>
void point_field(const Typed& in, const char* label, const char* key, const PlanPoint& now,
                 float width, const Take& take) {
    const Document& document = in.shell.desk->history.now();
    const std::string name = in.prefix + key;
    const auto typed =
        typed_row(in.shell, in.ui,
                  {label, name.c_str(), point_shown(document, now),
                   "To the right of the datum, and to the back of it; any unit.", "", width});
    if (!typed) return;
    const auto value = typed_point(*typed, now, document.settings->units);
    if (!value.ok()) return refuse(in.shell, name.c_str(), *typed, value.error());
    take_typed(in.shell, name.c_str(), *typed, take(*value));
}

template <class Take>
void text_row(const Typed& in, const char* label, const char* key, const std::string& now,
              const char* about, const Take& take) {
    const std::string name = in.prefix + key;
    const auto typed = typed_row(in.shell, in.ui, {label, name.c_str(), now, about, "none"});
    if (typed) take_typed(in.shell, name.c_str(), *typed, take(*typed));
}

void section_rows(const Typed& in, std::size_t i, const Section& now) {
    const Document& document = in.shell.desk->history.now();
    const auto with = [&](auto Section::*member) {
        return [&document, i, now, member](const auto& value) {
            Section made = now;
            made.*member = value;
            return set_section(document, i, made);
        };
    };
    text_row(in, "Name", "name", now.name, "On the sheets and in the plan.", with(&Section::name));
    point_field(in, "Corner", "corner", now.corner, -1, with(&Section::corner));
    length_field(in, "Wide", "width", now.width, "From left to right.", with(&Section::width));
    length_field(in, "Deep", "depth", now.depth, "From front to back.", with(&Section::depth));
    length_field(in, "Deck", "height", now.height, "Of the deck over the hall floor.",
                 with(&Section::height));
}

void visitor_rows(const Typed& in, std::size_t i, const Visitor& now) {
    const Document& document = in.shell.desk->history.now();
    const auto with = [&](auto Visitor::*member) {
        return [&document, i, now, member](const auto& value) {
            Visitor made = now;
            made.*member = value;
            return set_visitor(document, i, made);
        };
    };
    text_row(in, "Name", "name", now.name, "As findings call them.", with(&Visitor::name));
    length_field(in, "Eyes", "eyes", now.eye_height, "Over the floor they stand or roll on.",
                 with(&Visitor::eye_height));
    length_field(in, "Crown", "crown", now.crown, "Top of the head over that floor.",
                 with(&Visitor::crown));
    length_field(in, "Set back", "setback", now.setback,
                 "How far the eyes stay inside the edge of the path.", with(&Visitor::setback));
    const std::string name = in.prefix + "share";
    const auto typed =
        typed_row(in.shell, in.ui,
                  {"Share", name.c_str(), fmt::format("{:.4g} %", now.share.value * 100),
                   "Of the audience: 0.2 or 20 %."});
    if (typed) {
        const auto value = typed_share(*typed, now.share);
        if (!value.ok()) return refuse(in.shell, name.c_str(), *typed, value.error());
        take_typed(in.shell, name.c_str(), *typed, with(&Visitor::share)(*value));
    }
    if (!now.source.empty()) quiet_text(in.ui, now.source);
}

void reference_rows(const Typed& in, std::size_t i, const ReferencePoint& now) {
    const Document& document = in.shell.desk->history.now();
    text_row(in, "Id", "id", now.id, "Short, as painted beside it: R1.",
             [&](const std::string& text) {
                 ReferencePoint made = now;
                 made.id = text;
                 return set_reference_point(document, i, made);
             });
    text_row(in, "Where", "where", now.description, "In words, so that a stranger finds it.",
             [&](const std::string& text) {
                 ReferencePoint made = now;
                 made.description = text;
                 return set_reference_point(document, i, made);
             });
    point_field(in, "Place", "at", {now.at.x, now.at.y}, -1, [&](const PlanPoint& point) {
        ReferencePoint made = now;
        made.at.x = point.x;
        made.at.y = point.y;
        return set_reference_point(document, i, made);
    });
    length_field(in, "Height", "z", now.at.z, "Over the hall floor.", [&](const Length& height) {
        ReferencePoint made = now;
        made.at.z = height;
        return set_reference_point(document, i, made);
    });
}

void add_visitor_row(Shell& shell, const Ui& ui) {
    ImGui::SetNextItemWidth(-1);
    const bool open = ImGui::BeginCombo("##add-visitor", "Add a visitor");
    tag_item(ui, "visitors/add");
    if (!open) return;
    for (const Visitor& visitor : built_in_visitors()) {
        if (ImGui::Selectable(visitor.name.c_str()))
            do_edit(shell, add_visitor(shell.desk->history.now(), visitor));
        tag_item(ui, "visitors/add/" + visitor.id);
    }
    ImGui::EndCombo();
}

} // namespace

void draw_points(Shell& shell, const Ui& ui, PointList list) {
    const std::string prefix = list == PointList::hall ? "hall/" : "path/";
    const std::vector<PlanPoint> points = points_of(shell.desk->history.now(), list);
    const float mark = ImGui::GetFrameHeight();
    for (std::size_t i = 0; i < points.size(); ++i) {
        ImGui::PushID(static_cast<int>(i));
        const Typed in{shell, ui, fmt::format("{}{}/", prefix, i)};
        const std::string label = fmt::format("Point {}", i + 1);
        const float room = -2 * (mark + ImGui::GetStyle().ItemSpacing.x);
        point_field(in, label.c_str(), "at", points[i], room, [&](const PlanPoint& point) {
            return set_point(shell.desk->history.now(), list, i, point);
        });
        ImGui::SameLine();
        if (button(ui, (in.prefix + "add").c_str(), "+"))
            do_edit(shell, add_point(shell.desk->history.now(), list, i));
        tip("Add a point after this one");
        ImGui::SameLine();
        if (button(ui, (in.prefix + "remove").c_str(), "-"))
            do_edit(shell, remove_point(shell.desk->history.now(), list, i));
        tip("Take this point away");
        ImGui::PopID();
    }
}

void draw_sections(Shell& shell, const Ui& ui) {
    const auto sections = shell.desk->history.now().sections;
    for (std::size_t i = 0; i < sections->size(); ++i) {
        ImGui::PushID(static_cast<int>(i));
        const Typed in{shell, ui, fmt::format("section/{}/", i)};
        if (i > 0) ImGui::Dummy({1, ui.em * 0.2f});
        section_rows(in, i, (*sections)[i]);
        if (button(ui, (in.prefix + "remove").c_str(), "Take this section away"))
            do_edit(shell, remove_section(shell.desk->history.now(), i));
        ImGui::PopID();
    }
    if (button(ui, "sections/add", "Add a section"))
        do_edit(shell, add_section(shell.desk->history.now()));
    tip("Of the size of the last, at its right");
}

void draw_references(Shell& shell, const Ui& ui) {
    const auto points = shell.desk->history.now().reference_points;
    if (points->empty())
        quiet_text(ui, "Points that a crew can find in the hall and measure from.");
    for (std::size_t i = 0; i < points->size(); ++i) {
        ImGui::PushID(static_cast<int>(i));
        const Typed in{shell, ui, fmt::format("reference/{}/", i)};
        reference_rows(in, i, (*points)[i]);
        if (button(ui, (in.prefix + "remove").c_str(), "Take it away"))
            do_edit(shell, remove_reference_point(shell.desk->history.now(), i));
        ImGui::Dummy({1, ui.em * 0.2f});
        ImGui::PopID();
    }
    const Document& document = shell.desk->history.now();
    if (button(ui, "references/corners", "Corners of the base"))
        do_edit(shell, reference_points_at_corners(document));
    tip("A point at each corner that has none yet");
    flow_on(ui, "One more");
    if (button(ui, "references/add", "One more"))
        do_edit(shell,
                add_reference_point(shell.desk->history.now(),
                                    {free_reference_id(shell.desk->history.now()), "", {0, 0, 0}}));
}

void draw_visitors(Shell& shell, const Ui& ui) {
    const auto visitors = shell.desk->history.now().visitors;
    for (std::size_t i = 0; i < visitors->size(); ++i) {
        const Visitor& visitor = (*visitors)[i];
        ImGui::PushID(static_cast<int>(i));
        const Typed in{shell, ui, "visitor/" + visitor.id + "/"};
        const std::string title =
            fmt::format("{}, eyes at {}", visitor.name.empty() ? visitor.id : visitor.name,
                        length_shown(shell.desk->history.now(), visitor.eye_height.mm));
        if (fold(shell, ui, ("fold/visitor/" + visitor.id).c_str(), title, false)) {
            visitor_rows(in, i, visitor);
            if (button(ui, (in.prefix + "remove").c_str(), "Take them away"))
                do_edit(shell, remove_visitor(shell.desk->history.now(), i));
        }
        ImGui::PopID();
    }
    add_visitor_row(shell, ui);
}

} // namespace standpoint
