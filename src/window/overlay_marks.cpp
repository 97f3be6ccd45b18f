// Marks of findings: a cross for what fails, a smaller triangle for what is to be looked at.
#include "window/overlay_marks.h"

#include <algorithm>

#include <fmt/format.h>
#include <imgui.h>

namespace standpoint {

namespace {

char letter_of(Grade grade) {
    return grade == Grade::fail ? 'f' : grade == Grade::warn ? 'w' : 'g';
}

// Marks that would lie on one another, drawn as one with their number.
struct MarkPlace {
    glm::vec2 at{0.0f};
    Grade grade = Grade::warn; // the worst of them
    int count = 1;
};

float mark_radius(const ViewPaint& paint, Grade grade) {
    return paint.ui->em * (grade == Grade::fail ? 0.42f : 0.32f);
}

std::vector<MarkPlace> marks_of(const CheckResults& results, const ViewPaint& paint) {
    std::vector<MarkPlace> marks;
    for (const Grade grade : {Grade::fail, Grade::warn})
        for (const Finding& finding : results.findings) {
            glm::vec2 p;
            if (finding.grade != grade || !finding.place ||
                !place_on_screen(paint, *finding.place, p))
                continue;
            const auto near = std::find_if(marks.begin(), marks.end(), [&](const MarkPlace& mark) {
                return glm::length(mark.at - p) <
                       (mark_radius(paint, mark.grade) + mark_radius(paint, grade)) * 1.3f;
            });
            if (near == marks.end())
                marks.push_back({p, grade, 1});
            else
                ++near->count;
        }
    return marks;
}

} // namespace

// What fails is drawn last, so that it lies over what is only to be looked at.
void paint_findings(const Shell& shell, const ViewPaint& paint) {
    if (paint.camera.kind == ViewKind::eye || !shell.answers.outcome ||
        !shell.answers.outcome->results)
        return;
    const std::vector<MarkPlace> marks = marks_of(*shell.answers.outcome->results, paint);
    for (auto mark = marks.rbegin(); mark != marks.rend(); ++mark) {
        const float r = mark_radius(paint, mark->grade);
        paint_flag(paint, mark->at, letter_of(mark->grade), r);
        take_place(paint, mark->at - r, mark->at + r);
        if (mark->count == 1) continue;
        const std::string count = fmt::format("{}", mark->count);
        const float size = paint.ui->em * 0.75f, share = size / ImGui::GetFontSize();
        const glm::vec2 low = mark->at + glm::vec2(r * 0.9f, -r - size * 0.35f),
                        high = low + glm::vec2(text_width(count) * share + 4, size);
        paint.list->AddRectFilled({low.x, low.y}, {high.x, high.y},
                                  packed(with_alpha(paint.ui->palette->paper, 0.85)), 2);
        paint.list->AddText(
            ImGui::GetFont(), size, {low.x + 2, low.y},
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
