// Align and spread.
#include "desk/arrange.h"

#include <algorithm>
#include <unordered_set>

#include <fmt/format.h>

#include "desk/places.h"

namespace standpoint {

namespace {

struct Boxed {
    std::string id;
    Box box;
};

Result<Box> box_of(const Document& document, const Staging& staging, const std::string& id) {
    const StagedPiece* staged = find_staged(staging, id);
    if (!staged || staged->box.empty())
        return input_error("", in_quotes(spoken(document, {id})) +
                                   " is switched off. Switch it on first.");
    return staged->box;
}

Result<std::vector<Boxed>> boxes_of(const Document& document, const Staging& staging,
                                    const Ids& ids) {
    std::vector<Boxed> boxes;
    for (const std::string& id : ids) {
        STANDPOINT_TRY(box, box_of(document, staging, id));
        boxes.push_back({id, box});
    }
    return boxes;
}

Edit shifted(const Document& document, const std::vector<std::pair<std::string, glm::dvec3>>& by,
             const std::string& label) {
    const Places places(document);
    std::vector<WantedFrame> wanted;
    for (const auto& [id, shift] : by) {
        Frame frame = places.frame(id);
        frame.origin += shift;
        wanted.push_back({id, frame});
    }
    return Edit(label, steps_to(document, wanted, Rounding::exact));
}

double shift_to(const Box& lead, const Box& box, Align how, int& axis) {
    switch (how) {
    case Align::left:
        axis = 0;
        return lead.low.x - box.low.x;
    case Align::right:
        axis = 0;
        return lead.high.x - box.high.x;
    case Align::front:
        axis = 1;
        return lead.low.y - box.low.y;
    case Align::back:
        axis = 1;
        return lead.high.y - box.high.y;
    case Align::centre_x:
        axis = 0;
        return lead.centre().x - box.centre().x;
    case Align::centre_y:
        axis = 1;
        return lead.centre().y - box.centre().y;
    case Align::top:
        axis = 2;
        return lead.high.z - box.high.z;
    case Align::bottom:
        axis = 2;
        return lead.low.z - box.low.z;
    }
    return 0;
}

// Those that are not carried by others of them, from the lowest to the highest along the axis.
Result<std::vector<Boxed>> row_of(const Document& document, const Staging& staging, const Ids& ids,
                                  int axis, SpreadBy by) {
    STANDPOINT_CHECK(axis >= 0 && axis <= 2);
    STANDPOINT_TRY_STATUS(check_there(document, ids));
    const Ids roots = roots_of(document, ids);
    if (roots.size() < 3)
        return input_error("", fmt::format("found {}, expected at least three to spread",
                                           roots.size() == 1 ? "one piece" : "two pieces"));
    STANDPOINT_TRY(row, boxes_of(document, staging, roots));
    const auto key = [&](const Boxed& one) {
        return by == SpreadBy::gaps ? one.box.low[axis] : one.box.centre()[axis];
    };
    std::stable_sort(row.begin(), row.end(),
                     [&](const Boxed& a, const Boxed& b) { return key(a) < key(b); });
    return row;
}

double equal_gap(const std::vector<Boxed>& row, int axis) {
    double filled = 0;
    for (std::size_t i = 1; i + 1 < row.size(); ++i)
        filled += row[i].box.size()[axis];
    return (row.back().box.low[axis] - row.front().box.high[axis] - filled) /
           static_cast<double>(row.size() - 1);
}

// What each piece between the first and the last has to move by, in their order.
std::vector<double> spread_shifts(const std::vector<Boxed>& row, int axis, SpreadBy by) {
    const auto low = [&](std::size_t i) { return row[i].box.low[axis]; };
    const auto high = [&](std::size_t i) { return row[i].box.high[axis]; };
    const auto centre = [&](std::size_t i) { return row[i].box.centre()[axis]; };
    const std::size_t last = row.size() - 1;
    std::vector<double> shifts(row.size(), 0.0);
    const double gap = equal_gap(row, axis);
    const double step = (centre(last) - centre(0)) / static_cast<double>(last);
    double end = high(0);
    for (std::size_t i = 1; i < last; ++i) {
        shifts[i] = by == SpreadBy::gaps ? end + gap - low(i)
                                         : centre(0) + step * static_cast<double>(i) - centre(i);
        end += gap + (high(i) - low(i));
    }
    return shifts;
}

} // namespace

Result<Edit> align(const Document& document, const Staging& staging, const Ids& ids, Align how) {
    STANDPOINT_TRY_STATUS(check_there(document, ids));
    const std::string& lead = ids.back();
    // What carries the leading piece cannot move without it.
    Ids others;
    for (const std::string& id : ids)
        if (id != lead && !with_carried(document, {id}).contains(lead)) others.push_back(id);
    if (others.empty())
        return input_error("", "found one piece chosen, expected at least two to align");
    STANDPOINT_TRY_STATUS(check_movable(document, others));
    STANDPOINT_TRY(lead_box, box_of(document, staging, lead));
    Ids all = others;
    all.push_back(lead);
    std::vector<std::pair<std::string, glm::dvec3>> shifts;
    for (const std::string& id : roots_of(document, others)) {
        // Riders on the leading piece may still move; only riders on others are carried along.
        STANDPOINT_TRY(box, box_of(document, staging, id));
        int axis = 0;
        const double by = shift_to(lead_box, box, how, axis);
        glm::dvec3 shift{0.0};
        shift[axis] = by;
        shifts.emplace_back(id, shift);
    }
    return shifted(document, shifts, "Align " + spoken(document, all));
}

Result<Edit> spread(const Document& document, const Staging& staging, const Ids& ids, int axis,
                    SpreadBy by) {
    STANDPOINT_TRY(row, row_of(document, staging, ids, axis, by));
    Ids moving;
    for (std::size_t i = 1; i + 1 < row.size(); ++i)
        moving.push_back(row[i].id);
    STANDPOINT_TRY_STATUS(check_movable(document, moving));
    const std::vector<double> along = spread_shifts(row, axis, by);
    std::vector<std::pair<std::string, glm::dvec3>> shifts;
    for (std::size_t i = 1; i + 1 < row.size(); ++i) {
        glm::dvec3 shift{0.0};
        shift[axis] = along[i];
        shifts.emplace_back(row[i].id, shift);
    }
    return shifted(document, shifts, "Spread " + spoken(document, ids));
}

Result<double> gap_when_spread(const Document& document, const Staging& staging, const Ids& ids,
                               int axis) {
    STANDPOINT_TRY(row, row_of(document, staging, ids, axis, SpreadBy::gaps));
    return equal_gap(row, axis);
}

} // namespace standpoint
