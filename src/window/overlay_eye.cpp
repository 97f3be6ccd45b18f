// Says what the outlines in an eye view mean.
#include "window/overlay_eye.h"

#include <algorithm>

#include <imgui.h>

namespace standpoint {

std::string outline_words(const Shell& shell) {
    if (!shell.desk || !shell.answers.outcome || shell.scrub.look_at.empty()) return {};
    const std::vector<std::string> blockers =
        blockers_at(*shell.answers.outcome, shell.scrub.look_at, shell.scrub.visitor,
                    shell.scrub.distance_mm, shell.scrub.lane);
    // What is picked has the outline of what is picked.
    const bool any = std::any_of(blockers.begin(), blockers.end(), [&](const std::string& id) {
        return find_staged(*shell.desk->shown, id) && !is_selected(*shell.desk, id);
    });
    if (!any) return {};
    const Document& document = shell.desk->history.now();
    if (const Target* target = find_target(document, shell.scrub.look_at))
        return "outlined: what hides " + spoken(target->name, target->id);
    const Piece* piece = find_piece(document, shell.scrub.look_at);
    return piece ? "outlined: what hides " + spoken(piece->name, piece->id) : std::string();
}

void paint_outline_key(const Shell& shell, const ViewPaint& paint) {
    if (paint.camera.kind != ViewKind::eye) return;
    const std::string whole = outline_words(shell);
    if (whole.empty()) return;
    const float em = paint.ui->em, sample = em * 0.7f, pad = em * 0.35f;
    const float room = static_cast<float>(paint.size.x) - em - sample - 3 * pad;
    if (room < em * 4) return;
    const std::string words = shortened(whole, room);
    const float height = ImGui::GetTextLineHeight() + pad;
    const glm::vec2 low =
        paint.low + glm::vec2(em * 0.5f, static_cast<float>(paint.size.y) - em * 0.5f - height);
    const glm::vec2 high = low + glm::vec2(sample + text_width(words) + 3 * pad, height);
    const Palette& colours = *paint.ui->palette;
    paint.list->AddRectFilled({low.x, low.y}, {high.x, high.y},
                              packed(with_alpha(colours.paper, 0.85)), 2);
    const float middle = (low.y + high.y) / 2;
    paint.list->AddRect({low.x + pad, middle - sample / 2},
                        {low.x + pad + sample, middle + sample / 2}, packed(colours.fail), 0, 0, 2);
    paint.list->AddText({low.x + 2 * pad + sample, low.y + pad / 2}, packed(colours.ink),
                        words.c_str());
    tag_rect(*paint.ui, "eye/outlined", low, high);
    take_place(paint, low, high);
}

} // namespace standpoint
