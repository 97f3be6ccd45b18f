// Reading skeletons: both sides made of one, names turned into indices, sums checked.
#include "figure/skeleton.h"

#include <cmath>
#include <set>

#include <glm/geometric.hpp>

#include "figure/skeleton_file.h"
#include "scene/json_reader.h"
#include "scene/json_tree.h"
#include "scene/problem.h"
#include "scene/text.h"

namespace standpoint {

namespace {

constexpr double share_slack = 0.001;
constexpr double largest_mm = 1e6;
constexpr std::size_t most_solids = 10000;
// Regions of finer cells would take more memory than a body is worth.
constexpr double finest_cell_share = 1.0 / 2000;

std::string step(const char* list, std::size_t index) {
    return "/" + std::string(list) + "/" + std::to_string(index);
}

enum class Side { middle, left, right };

glm::dvec3 vector_of(const Point3& point, Side side) {
    const double x = side == Side::right ? -point.x.mm : point.x.mm;
    return {x, point.y.mm, point.z.mm};
}

glm::dvec3 vector_of(Direction direction) {
    constexpr glm::dvec3 along[] = {{1, 0, 0}, {-1, 0, 0}, {0, -1, 0},
                                    {0, 1, 0}, {0, 0, 1},  {0, 0, -1}};
    return along[static_cast<int>(direction)];
}

// An axis of rotation is mirrored the other way than an arrow is.
glm::dvec3 axis_of(Direction about, Side side) {
    const glm::dvec3 v = vector_of(about);
    return side == Side::right ? glm::dvec3(v.x, -v.y, -v.z) : v;
}

glm::dvec3 normal_of(Direction normal, Side side) {
    const glm::dvec3 v = vector_of(normal);
    return side == Side::right ? glm::dvec3(-v.x, v.y, v.z) : v;
}

std::string named(const std::string& name, Side side) {
    if (side == Side::middle) return name;
    return (side == Side::left ? "left " : "right ") + name;
}

template <class Items> int index_of(const Items& items, std::string_view name) {
    for (std::size_t i = 0; i < items.size(); ++i)
        if (items[i].name == name) return static_cast<int>(i);
    return -1;
}

// What a side's thing refers to: the one of its side if there is one.
template <class Items> int sided_index(const Items& items, const std::string& name, Side side) {
    const int own = index_of(items, named(name, side));
    return own >= 0 ? own : index_of(items, name);
}

template <class Items>
Trouble unknown(std::string pointer, const char* what, const Items& items,
                const std::string& name) {
    std::vector<std::string> names;
    for (const auto& item : items)
        names.push_back(item.name);
    const std::string near = nearest_word(name, names);
    return trouble(std::move(pointer), "found " + in_quotes(name) + ", expected the name of a " +
                                           what +
                                           (near.empty() ? "" : " such as " + in_quotes(near)));
}

Trouble in_reach(const char* key, const Point3& point) {
    for (const Length& length : {point.x, point.y, point.z})
        if (!(std::abs(length.mm) <= largest_mm))
            return trouble(pointer_step(key), "found " + print_exact(length.mm) +
                                                  " mm, expected at most 1 km either way");
    return std::nullopt;
}

class SkeletonMaker {
  public:
    explicit SkeletonMaker(const file::Skeleton& given) : given_(given) {}

    Trouble make() {
        made_.name = given_.name;
        made_.description = given_.description;
        made_.source = given_.source;
        made_.measured = given_.measured.empty() ? "crown over soles" : given_.measured;
        made_.stature = given_.stature.mm;
        made_.dress = given_.dress;
        if (!(made_.stature > 0) || made_.stature > largest_mm)
            return trouble("/stature", "found " + print_exact(made_.stature) +
                                           " mm, expected more than 0 and at most 1 km");
        if (auto fault = each("segments", given_.segments, &SkeletonMaker::add_segment))
            return fault;
        if (auto fault = each("joints", given_.joints, &SkeletonMaker::add_joint)) return fault;
        if (auto fault = each("contacts", given_.contacts, &SkeletonMaker::add_contact))
            return fault;
        if (auto fault = each("regions", given_.regions, &SkeletonMaker::add_region)) return fault;
        if (auto fault = each("solids", given_.solids, &SkeletonMaker::add_solid)) return fault;
        return check_whole();
    }
    Skeleton take() && { return std::move(made_); }

  private:
    template <class Item>
    Trouble each(const char* list, const std::vector<Item>& items,
                 Trouble (SkeletonMaker::*add)(const Item&, Side)) {
        for (std::size_t i = 0; i < items.size(); ++i) {
            const bool both = items[i].both_sides;
            for (const Side side : {both ? Side::left : Side::middle, Side::right}) {
                if (side == Side::right && !both) continue;
                if (auto fault = (this->*add)(items[i], side)) return within(step(list, i), fault);
            }
        }
        return std::nullopt;
    }

    template <class Items> Trouble fresh_name(const Items& items, const std::string& name) {
        if (name.empty()) return trouble("/name", "found no name, expected one");
        if (index_of(items, name) < 0) return std::nullopt;
        return trouble("/name",
                       "found " + in_quotes(name) + " a second time, expected names to differ");
    }

    Trouble add_segment(const file::Segment& given, Side side) {
        BodySegment made;
        made.name = named(given.name, side);
        if (auto fault = fresh_name(made_.segments, made.name)) return fault;
        if (auto fault = in_reach("tip", given.tip)) return fault;
        made.tip = vector_of(given.tip, side);
        made.mass_share = given.mass_share.value;
        if (!(made.mass_share >= 0 && made.mass_share <= 1))
            return trouble("/mass_share", "found " + print_exact(made.mass_share) +
                                              ", expected a share from 0 to 1");
        made.centre = given.centre.value;
        made.radius = given.radius.mm;
        made_.segments.push_back(made);
        return std::nullopt;
    }

    Trouble segment_of(int& out, const char* key, const std::string& name, Side side) {
        out = sided_index(made_.segments, name, side);
        if (out >= 0) return std::nullopt;
        return unknown(pointer_step(key), "segment", made_.segments, name);
    }

    bool hangs(int segment) const {
        for (const Joint& joint : made_.joints)
            if (joint.segment == segment) return true;
        return false;
    }

    Trouble add_joint(const file::Joint& given, Side side) {
        Joint made;
        made.name = named(given.name, side);
        made.trade = given.trade.empty() ? made.name : named(given.trade, side);
        if (auto fault = in_reach("at", given.at)) return fault;
        made.at = vector_of(given.at, side);
        if (auto fault = fresh_name(made_.joints, made.name)) return fault;
        if (auto fault = segment_of(made.segment, "segment", given.segment, side)) return fault;
        if (hangs(made.segment))
            return trouble("/segment", "found " + in_quotes(given.segment) +
                                           " a second time, expected each segment to hang from "
                                           "one joint");
        if (made_.joints.empty() != given.parent.empty())
            return trouble(made_.joints.empty() ? "/parent" : "",
                           made_.joints.empty()
                               ? "found a parent, expected none for the first joint"
                               : "found no \"parent\", expected it for all but the first joint");
        if (!given.parent.empty()) {
            if (auto fault = segment_of(made.parent, "parent", given.parent, side)) return fault;
            if (!hangs(made.parent))
                return trouble("/parent", "found " + in_quotes(given.parent) +
                                              ", whose joint comes later, expected parents first");
        }
        for (std::size_t i = 0; i < given.axes.size(); ++i)
            if (auto fault = add_axis(made, given.axes[i], side))
                return within(step("axes", i), fault);
        made_.joints.push_back(std::move(made));
        return std::nullopt;
    }

    Trouble add_axis(Joint& joint, const file::Axis& given, Side side) {
        if (auto fault = fresh_name(joint.axes, given.name)) return fault;
        if (!(given.least.deg <= given.most.deg) || given.least.deg < -360 || given.most.deg > 360)
            return trouble("/most", "found " + print_exact(given.least.deg) + " to " +
                                        print_exact(given.most.deg) +
                                        " degrees, expected a range within 360 either way");
        joint.axes.push_back({given.name, given.trade.empty() ? given.name : given.trade,
                              axis_of(given.about, side), given.least.deg, given.most.deg});
        return std::nullopt;
    }

    Trouble add_contact(const file::Contact& given, Side side) {
        BodyContact made;
        made.name = named(given.name, side);
        made.kind = given.kind;
        made.normal = normal_of(given.normal, side);
        if (auto fault = fresh_name(made_.contacts, made.name)) return fault;
        if (auto fault = segment_of(made.segment, "segment", given.segment, side)) return fault;
        if (given.points.empty())
            return trouble("/points", "found no point, expected at least one");
        for (const Point3& point : given.points) {
            if (auto fault = in_reach("points", point)) return fault;
            made.points.push_back(vector_of(point, side));
        }
        made_.contacts.push_back(std::move(made));
        return std::nullopt;
    }

    Trouble add_region(const file::Region& given, Side side) {
        BodyRegion made{named(given.name, side), given.colour, given.cell.mm, given.worn,
                        given.front_below.mm,    given.front};
        if (auto fault = fresh_name(made_.regions, made.name)) return fault;
        if (!(made.cell >= finest_cell_share * made_.stature))
            return trouble("/cell", "found " + print_exact(made.cell) +
                                        " mm, expected at least 1/2000 of the stature");
        for (const char* key : {"skin", "hair", "coat", "trousers", "shoes", "skirt", "hat"})
            if (made.colour == key) {
                made_.regions.push_back(std::move(made));
                return std::nullopt;
            }
        if (!is_colour(made.colour))
            return trouble("/colour", "found " + in_quotes(made.colour) +
                                          ", expected #rrggbb or a colour of the dress");
        made_.regions.push_back(std::move(made));
        return std::nullopt;
    }

    Trouble add_solid(const file::Solid& given, Side side) {
        BodySolid made;
        made.region = sided_index(made_.regions, given.region, side);
        if (made.region < 0) return unknown("/region", "region", made_.regions, given.region);
        if (auto fault = segment_of(made.segment, "segment", given.segment, side)) return fault;
        made.from = vector_of(given.from, side);
        made.to = given.to ? vector_of(*given.to, side) : made.from;
        made.radius = given.radius.mm;
        made.end_radius = given.end_radius ? given.end_radius->mm : made.radius;
        made.stretch = {given.stretch.wide.value, given.stretch.deep.value,
                        given.stretch.high.value};
        made.blend = given.blend.mm;
        made.carve = given.carve;
        made.ends = given.ends;
        made.hem_from = given.hem_from.value;
        made.hem_to = given.hem_to.value;
        if (auto fault = check_solid(made)) return fault;
        made_.solids.push_back(made);
        return std::nullopt;
    }

    static Trouble check_solid(const BodySolid& solid) {
        if (!(solid.radius > 0)) return trouble("/radius", "found 0 or less, expected more than 0");
        if (!(solid.end_radius > 0))
            return trouble("/end_radius", "found 0 or less, expected more than 0");
        for (int i = 0; i < 3; ++i)
            if (!(solid.stretch[i] >= 0.05 && solid.stretch[i] <= 20))
                return trouble("/stretch",
                               "found " + print_exact(solid.stretch[i]) + ", expected 0.05 to 20");
        if (!(solid.blend >= 0)) return trouble("/blend", "found less than 0, expected 0 or more");
        const double reach = glm::length(solid.to) + glm::length(solid.from) + solid.radius +
                             solid.end_radius + solid.blend;
        if (!(reach < largest_mm)) return trouble("", "found a solid over 1 km, expected less");
        return std::nullopt;
    }

    Trouble check_whole() const {
        if (made_.solids.size() > most_solids)
            return trouble("/solids", "found " + std::to_string(made_.solids.size()) +
                                          " solids, both sides counted, expected at most 10000");
        double sum = 0;
        for (std::size_t i = 0; i < made_.segments.size(); ++i) {
            sum += made_.segments[i].mass_share;
            if (!hangs(static_cast<int>(i)))
                return trouble("/joints", "found no joint for the segment " +
                                              in_quotes(made_.segments[i].name) + ", expected one");
        }
        if (made_.segments.empty())
            return trouble("/segments", "found no segment, expected at least one");
        if (std::abs(sum - 1) > share_slack)
            return trouble("/segments",
                           "found shares of mass that sum to " + print_exact(sum) + ", expected 1");
        return std::nullopt;
    }

    const file::Skeleton& given_;
    Skeleton made_;
};

} // namespace

Result<Skeleton> read_skeleton(std::string_view json, const std::string& file) {
    STANDPOINT_TRY(root, read_json_tree(json, file));
    FieldReader reader(json, file, root);
    file::Skeleton given;
    if (!reader.read(root, given)) return reader.error();
    SkeletonMaker maker(given);
    if (const Trouble fault = maker.make()) {
        reader.fail(byte_of(root, fault->pointer), fault->message);
        return reader.error();
    }
    return std::move(maker).take();
}

int joint_index(const Skeleton& skeleton, std::string_view name) {
    return index_of(skeleton.joints, name);
}
int axis_index(const Joint& joint, std::string_view name) {
    return index_of(joint.axes, name);
}
int segment_index(const Skeleton& skeleton, std::string_view name) {
    return index_of(skeleton.segments, name);
}

} // namespace standpoint
