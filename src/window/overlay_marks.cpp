// Marks of findings: a cross for what fails, a smaller triangle for what is to be looked at.
#include "window/overlay_marks.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <glm/geometric.hpp>
#include <imgui.h>

#include "window/answers.h"

namespace standpoint {

namespace {

char letter_of(Grade grade) {
    return grade == Grade::fail ? 'f' : grade == Grade::warn ? 'w' : 'g';
}

double mark_radius(double em, Grade grade) {
    return em * (grade == Grade::fail ? 0.42 : 0.32);
}

const CheckResults* results_of(const Shell& shell) {
    return shell.answers.outcome && shell.answers.outcome->results
               ? &*shell.answers.outcome->results
               : nullptr;
}

} // namespace

std::vector<FindingMark> finding_marks(const CheckResults& results, const ViewCamera& camera,
                                       const glm::ivec2& size, double em) {
    std::vector<FindingMark> marks;
    if (camera.kind == ViewKind::eye) return marks;
    for (const Grade grade : {Grade::fail, Grade::warn})
        for (std::size_t i = 0; i < results.findings.size(); ++i) {
            const Finding& finding = results.findings[i];
            if (finding.grade != grade || !finding.place) continue;
            const auto at = pixel_of(camera, size, *finding.place);
            if (!at || std::abs(at->x) > 1e5 || std::abs(at->y) > 1e5) continue;
            const double radius = mark_radius(em, grade);
            const auto near = std::find_if(marks.begin(), marks.end(), [&](const FindingMark& m) {
                return glm::length(m.at - *at) < (m.radius + radius) * 1.3;
            });
            if (near == marks.end())
                marks.push_back({*at, radius, grade, {i}});
            else
                near->findings.push_back(i);
        }
    return marks;
}

std::optional<std::size_t> mark_under(const std::vector<FindingMark>& marks, const glm::dvec2& at) {
    constexpr double reach = 1.3; // of the radius: the shapes have corners
    for (std::size_t i = 0; i < marks.size(); ++i)
        if (glm::length(marks[i].at - at) <= marks[i].radius * reach) return i;
    return std::nullopt;
}

std::size_t next_of_mark(const FindingMark& mark, int picked) {
    for (std::size_t i = 0; i < mark.findings.size(); ++i)
        if (static_cast<int>(mark.findings[i]) == picked)
            return mark.findings[(i + 1) % mark.findings.size()];
    return mark.findings.front();
}

bool press_mark(Shell& shell, int view, const glm::ivec2& size, const glm::dvec2& at) {
    const CheckResults* results = results_of(shell);
    if (results == nullptr) return false;
    ViewCamera& camera = shell.views[static_cast<std::size_t>(view)].camera;
    const auto marks = finding_marks(*results, camera, size, ImGui::GetFontSize());
    const auto pressed = mark_under(marks, at);
    if (!pressed) return false;
    const ViewCamera kept = camera; // so that the mark stays under the pointer
    const std::size_t index = next_of_mark(marks[*pressed], shell.finding);
    shell.finding = static_cast<int>(index);
    go_to(shell, results->findings[index]);
    camera = kept;
    return true;
}

void mark_tip(const Shell& shell, const ViewPaint& paint) {
    const CheckResults* results = results_of(shell);
    if (results == nullptr || shell.pointer.drag != Drag::none) return;
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    const auto marks = finding_marks(*results, paint.camera, paint.size, paint.ui->em);
    const auto over = mark_under(marks, {mouse.x - paint.low.x, mouse.y - paint.low.y});
    if (!over) return;
    constexpr std::size_t most = 6;
    const std::vector<std::size_t>& findings = marks[*over].findings;
    std::string words;
    for (std::size_t i = 0; i < std::min(findings.size(), most); ++i)
        words += (i == 0 ? "" : "\n\n") + results->findings[findings[i]].message;
    if (findings.size() > most) words += fmt::format("\n\nand {} more", findings.size() - most);
    if (findings.size() > 1) words += "\n\nPress again for the next of them.";
    tip(words);
}

// What fails is drawn last, so that it lies over what is only to be looked at.
void paint_findings(const Shell& shell, const ViewPaint& paint) {
    const CheckResults* results = results_of(shell);
    if (results == nullptr) return;
    const auto marks = finding_marks(*results, paint.camera, paint.size, paint.ui->em);
    for (auto mark = marks.rbegin(); mark != marks.rend(); ++mark) {
        const glm::vec2 at = paint.low + glm::vec2(mark->at);
        const float r = static_cast<float>(mark->radius);
        paint_flag(paint, at, letter_of(mark->grade), r);
        take_place(paint, at - r, at + r);
        if (mark->findings.size() == 1) continue;
        const std::string count = fmt::format("{}", mark->findings.size());
        const float text = paint.ui->em * 0.75f, share = text / ImGui::GetFontSize();
        const glm::vec2 low = at + glm::vec2(r * 0.9f, -r - text * 0.35f),
                        high = low + glm::vec2(text_width(count) * share + 4, text);
        paint.list->AddRectFilled({low.x, low.y}, {high.x, high.y},
                                  packed(with_alpha(paint.ui->palette->paper, 0.85)), 2);
        paint.list->AddText(
            ImGui::GetFont(), text, {low.x + 2, low.y},
            packed(mark->grade == Grade::fail ? paint.ui->palette->fail : paint.ui->palette->warn),
            count.c_str());
        take_place(paint, low, high);
    }
}

void paint_width_words(const Shell& shell, const ViewPaint& paint, Grade grade) {
    if (paint.camera.kind != ViewKind::plan || !shell.answers.outcome ||
        !shell.answers.outcome->results)
        return;
    const Document& document = shell.desk->history.now();
    const Palette& colours = *paint.ui->palette;
    for (const Finding& finding : shell.answers.outcome->results->walkway.findings) {
        if (finding.grade != grade || !finding.place || !finding.measured ||
            finding.check != "walkway")
            continue;
        paint_words(paint, *finding.place, length_text(document, *finding.measured),
                    finding.grade == Grade::fail ? colours.fail : colours.warn,
                    {0, -paint.ui->em * 1.1f});
    }
}

} // namespace standpoint
