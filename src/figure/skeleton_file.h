// A skeleton as it stands in its file, and the tables of its keys. Things "on both sides" are
// given for the left and stand for two, "left NAME" and "right NAME".
#pragma once

#include <string>
#include <vector>

#include "figure/skeleton.h"
#include "scene/fields.h"

namespace standpoint {

enum class Direction { left, right, front, back, up, down };
inline constexpr const char* direction_names[] = {"left", "right", "front", "back", "up", "down"};

namespace file {

struct Axis {
    std::string name, trade;
    Direction about = Direction::left;
    Angle least, most;
};
struct Segment {
    std::string name;
    bool both_sides = false;
    Point3 tip;
    Number mass_share;
    Number centre{0.5};
    Length radius;
};
struct Joint {
    std::string name, trade;
    bool both_sides = false;
    std::string parent, segment;
    Point3 at;
    std::vector<Axis> axes;
};
struct Contact {
    std::string name;
    bool both_sides = false;
    ContactKind kind = ContactKind::sole;
    std::string segment;
    std::vector<Point3> points;
    Direction normal = Direction::down;
};
struct Region {
    std::string name;
    bool both_sides = false;
    std::string colour;
    Length cell{10};
    Worn worn = Worn::always;
    std::string front;
    Length front_below;
};
struct Stretch {
    Number wide{1}, deep{1}, high{1};
    friend bool operator==(const Stretch&, const Stretch&) = default;
};
struct Solid {
    std::string region, segment;
    bool both_sides = false;
    Point3 from;
    std::optional<Point3> to;
    Length radius;
    std::optional<Length> end_radius;
    Stretch stretch;
    Length blend;
    bool carve = false;
    Ends ends = Ends::round;
    Number hem_from, hem_to;
};
struct Skeleton {
    std::string name, description, source, measured;
    Length stature;
    std::vector<Segment> segments;
    std::vector<Joint> joints;
    std::vector<Contact> contacts;
    std::vector<Region> regions;
    std::vector<Solid> solids;
    FigureDress dress;
};

} // namespace file

template <> struct NamesOf<Direction> { static constexpr auto& names = direction_names; };
template <> struct NamesOf<ContactKind> { static constexpr auto& names = contact_kind_names; };
template <> struct NamesOf<Ends> { static constexpr auto& names = ends_names; };
template <> struct NamesOf<Worn> { static constexpr auto& names = worn_names; };

template <> struct Fields<file::Axis> {
    using F = file::Axis;
    static constexpr auto list =
        std::tuple{need("name", &F::name), have("trade", &F::trade), need("about", &F::about),
                   need("least", &F::least), need("most", &F::most)};
};
template <> struct Fields<file::Segment> {
    using F = file::Segment;
    static constexpr auto list =
        std::tuple{need("name", &F::name),     have("both_sides", &F::both_sides),
                   need("tip", &F::tip),       need("mass_share", &F::mass_share),
                   have("centre", &F::centre), have("radius", &F::radius)};
};
template <> struct Fields<file::Joint> {
    using F = file::Joint;
    static constexpr auto list = std::tuple{need("name", &F::name),
                                            have("trade", &F::trade),
                                            have("both_sides", &F::both_sides),
                                            have("parent", &F::parent),
                                            need("segment", &F::segment),
                                            have("at", &F::at),
                                            need("axes", &F::axes)};
};
template <> struct Fields<file::Contact> {
    using F = file::Contact;
    static constexpr auto list =
        std::tuple{need("name", &F::name),     have("both_sides", &F::both_sides),
                   need("kind", &F::kind),     need("segment", &F::segment),
                   need("points", &F::points), need("normal", &F::normal)};
};
template <> struct Fields<file::Region> {
    using F = file::Region;
    static constexpr auto list = std::tuple{need("name", &F::name),
                                            have("both_sides", &F::both_sides),
                                            need("colour", &F::colour),
                                            need("cell", &F::cell),
                                            have("worn", &F::worn),
                                            have("front", &F::front),
                                            have("front_below", &F::front_below)};
};
template <> struct Fields<file::Stretch> {
    using F = file::Stretch;
    static constexpr auto list =
        std::tuple{have("wide", &F::wide), have("deep", &F::deep), have("high", &F::high)};
};
template <> struct Fields<file::Solid> {
    using F = file::Solid;
    static constexpr auto list = std::tuple{need("region", &F::region),
                                            need("segment", &F::segment),
                                            have("both_sides", &F::both_sides),
                                            need("from", &F::from),
                                            have("to", &F::to),
                                            need("radius", &F::radius),
                                            have("end_radius", &F::end_radius),
                                            have("stretch", &F::stretch),
                                            have("blend", &F::blend),
                                            have("carve", &F::carve),
                                            have("ends", &F::ends),
                                            have("hem_from", &F::hem_from),
                                            have("hem_to", &F::hem_to)};
};
template <> struct Fields<file::Skeleton> {
    using F = file::Skeleton;
    static constexpr auto list =
        std::tuple{need("name", &F::name),       have("description", &F::description),
                   have("source", &F::source),   have("measured", &F::measured),
                   need("stature", &F::stature), need("segments", &F::segments),
                   need("joints", &F::joints),   need("contacts", &F::contacts),
                   need("regions", &F::regions), need("solids", &F::solids),
                   have("dress", &F::dress)};
};

} // namespace standpoint
