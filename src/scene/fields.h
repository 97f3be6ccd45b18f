// One table a type: the keys of a scene file, in their order, and the members they fill. Reading,
// writing, range checks and memory counts all walk these tables, so they cannot disagree.
#pragma once

#include <memory>
#include <tuple>
#include <type_traits>

#include "scene/document.h"

namespace standpoint {

// What a number or a text may be, beside what its type says.
enum class Limit { any, not_negative, positive, share, id, label_id, text };

// Whether a key must be there when read, and is when written.
enum class Presence { needed, shown, when_set };

// A key that fills one member.
template <class Owner, class Member> struct Field {
    const char* key;
    Member Owner::*member;
    Presence presence;
    Limit limit;
};

template <class Owner, class Member>
constexpr Field<Owner, Member> need(const char* key, Member Owner::*member,
                                    Limit limit = Limit::any) {
    return {key, member, Presence::needed, limit};
}

template <class Owner, class Member>
constexpr Field<Owner, Member> have(const char* key, Member Owner::*member,
                                    Limit limit = Limit::any) {
    return {key, member, Presence::when_set, limit};
}

// May be left out when read, is always written.
template <class Owner, class Member>
constexpr Field<Owner, Member> show(const char* key, Member Owner::*member) {
    return {key, member, Presence::shown, Limit::any};
}

// Keys that do not map one to one: handled by each walker by name.
struct VersionField {}; // "standpoint": the version
struct SupportField {}; // "section", "on" or "hangs_from": at most one
struct BetweenField {}; // "between": two section ids
// Exactly one of the names, which says what the variant holds.
template <class Owner, class Variant> struct OneOf {
    Variant Owner::*member;
    const char* const* names; // by index of the variant
    const char* what;         // for messages: "form"
};

inline constexpr const char* version_key = "standpoint";
inline constexpr const char* between_key = "between";
inline constexpr const char* unit_system_names[] = {"metric", "imperial"};
inline constexpr const char* aim_names[] = {"see", "hide"};
// By Support; a piece on the hall floor has no such key.
inline constexpr const char* support_keys[] = {"", "section", "on", "hangs_from"};

template <class T> struct Fields; // Fields<T>::list is a tuple of the above

template <class T>
concept Described = requires {
    Fields<std::remove_const_t<T>>::list;
};

template <> struct Fields<BoxForm> {
    using F = BoxForm;
    static constexpr auto list = std::tuple{need("width", &F::width, Limit::positive),
                                            need("depth", &F::depth, Limit::positive),
                                            need("height", &F::height, Limit::positive)};
};
template <> struct Fields<CylinderForm> {
    using F = CylinderForm;
    static constexpr auto list = std::tuple{need("diameter", &F::diameter, Limit::positive),
                                            need("height", &F::height, Limit::positive)};
};
template <> struct Fields<ConeForm> {
    using F = ConeForm;
    static constexpr auto list =
        std::tuple{need("diameter", &F::diameter, Limit::positive),
                   have("top_diameter", &F::top_diameter, Limit::not_negative),
                   need("height", &F::height, Limit::positive)};
};
template <> struct Fields<SphereForm> {
    static constexpr auto list =
        std::tuple{need("diameter", &SphereForm::diameter, Limit::positive)};
};
template <> struct Fields<CapsuleForm> {
    using F = CapsuleForm;
    static constexpr auto list = std::tuple{need("diameter", &F::diameter, Limit::positive),
                                            need("height", &F::height, Limit::positive)};
};
template <> struct Fields<ExtrusionForm> {
    using F = ExtrusionForm;
    static constexpr auto list =
        std::tuple{need("outline", &F::outline), need("height", &F::height, Limit::positive)};
};
template <> struct Fields<TurningForm> {
    static constexpr auto list = std::tuple{need("profile", &TurningForm::profile)};
};
template <> struct Fields<StairsForm> {
    using F = StairsForm;
    static constexpr auto list = std::tuple{
        need("width", &F::width, Limit::positive), need("going", &F::going, Limit::positive),
        need("rise", &F::rise, Limit::positive), need("steps", &F::steps, Limit::positive)};
};
template <> struct Fields<FenceForm> {
    using F = FenceForm;
    static constexpr auto list =
        std::tuple{need("run", &F::run),
                   need("height", &F::height, Limit::positive),
                   need("post_diameter", &F::post_diameter, Limit::positive),
                   need("post_spacing", &F::post_spacing, Limit::positive),
                   have("rail_heights", &F::rail_heights, Limit::positive),
                   have("rail_diameter", &F::rail_diameter, Limit::not_negative),
                   have("sag", &F::sag, Limit::not_negative)};
};
template <> struct Fields<WallOpening> {
    using F = WallOpening;
    static constexpr auto list = std::tuple{need("from_left", &F::from_left, Limit::not_negative),
                                            have("sill", &F::sill, Limit::not_negative),
                                            need("width", &F::width, Limit::positive),
                                            need("height", &F::height, Limit::positive)};
};
template <> struct Fields<WallForm> {
    using F = WallForm;
    static constexpr auto list =
        std::tuple{need("width", &F::width, Limit::positive),
                   need("thickness", &F::thickness, Limit::positive),
                   need("height", &F::height, Limit::positive), have("openings", &F::openings)};
};
template <> struct Fields<TerrainForm> {
    using F = TerrainForm;
    static constexpr auto list = std::tuple{
        need("width", &F::width, Limit::positive), need("depth", &F::depth, Limit::positive),
        need("columns", &F::columns, Limit::positive), need("rows", &F::rows, Limit::positive),
        need("heights", &F::heights, Limit::not_negative)};
};
template <> struct Fields<ModelForm> {
    using F = ModelForm;
    static constexpr auto list =
        std::tuple{need("file", &F::file), have("unit", &F::unit, Limit::positive)};
};

template <> struct Fields<JointTurn> {
    using F = JointTurn;
    static constexpr auto list =
        std::tuple{need("joint", &F::joint), need("axis", &F::axis), need("angle", &F::angle)};
};
template <> struct Fields<FigureDress> {
    using F = FigureDress;
    static constexpr auto list =
        std::tuple{have("skin", &F::skin),   have("hair", &F::hair),
                   have("coat", &F::coat),   have("trousers", &F::trousers),
                   have("shoes", &F::shoes), have("skirt", &F::skirt),
                   have("hat", &F::hat),     have("hem", &F::hem, Limit::share)};
};
template <> struct Fields<FigureForm> {
    using F = FigureForm;
    static constexpr auto list =
        std::tuple{need("skeleton", &F::skeleton), have("stature", &F::stature, Limit::positive),
                   have("pose", &F::pose),         have("turns", &F::turns),
                   have("solved", &F::solved),     have("dress", &F::dress)};
};

template <> struct Fields<Pose6> {
    using F = Pose6;
    static constexpr auto list =
        std::tuple{have("x", &F::x),           have("y", &F::y),       have("z", &F::z),
                   have("facing", &F::facing), have("tilt", &F::tilt), have("roll", &F::roll)};
};
template <> struct Fields<Part> {
    using F = Part;
    static constexpr auto list = std::tuple{have("name", &F::name),
                                            OneOf{&F::form, form_names, "form"},
                                            have("at", &F::at),
                                            have("colour", &F::colour),
                                            have("lets_through", &F::lets_through, Limit::share),
                                            have("gloss", &F::gloss, Limit::share)};
};
template <> struct Fields<Mark> {
    static constexpr auto list = std::tuple{need("name", &Mark::name), need("at", &Mark::at)};
};
template <> struct Fields<Touch> {
    using F = Touch;
    static constexpr auto list = std::tuple{
        show("how", &F::how), need("contact", &F::contact), need("piece", &F::piece, Limit::id),
        have("at", &F::at),   have("side", &F::side),       have("meets", &F::meets)};
};
template <> struct Fields<Gaze> {
    using F = Gaze;
    static constexpr auto list =
        std::tuple{have("piece", &F::piece), have("at", &F::at), have("visitor", &F::visitor),
                   have("along", &F::way, Limit::not_negative)};
};
template <> struct Fields<Piece> {
    using F = Piece;
    static constexpr auto list = std::tuple{need("id", &F::id, Limit::id),
                                            have("name", &F::name),
                                            show("kind", &F::kind),
                                            SupportField{},
                                            have("at", &F::at),
                                            have("ratio", &F::ratio),
                                            need("parts", &F::parts),
                                            have("marks", &F::marks),
                                            have("touches", &F::touches),
                                            have("looks_at", &F::looks_at),
                                            have("off", &F::off),
                                            have("group", &F::group),
                                            have("locked", &F::locked),
                                            have("note", &F::note, Limit::text)};
};
template <> struct Fields<Section> {
    using F = Section;
    static constexpr auto list = std::tuple{need("id", &F::id, Limit::id),
                                            have("name", &F::name),
                                            need("corner", &F::corner),
                                            need("width", &F::width, Limit::positive),
                                            need("depth", &F::depth, Limit::positive),
                                            need("height", &F::height, Limit::not_negative)};
};
template <> struct Fields<JoinLine> {
    using F = JoinLine;
    static constexpr auto list =
        std::tuple{BetweenField{}, need("from", &F::from), need("to", &F::to)};
};
template <> struct Fields<ReferencePoint> {
    using F = ReferencePoint;
    static constexpr auto list =
        std::tuple{need("id", &F::id, Limit::label_id), have("description", &F::description),
                   need("at", &F::at)};
};
template <> struct Fields<Column> {
    using F = Column;
    static constexpr auto list =
        std::tuple{need("id", &F::id, Limit::id), need("centre", &F::centre),
                   have("width", &F::width, Limit::not_negative),
                   have("depth", &F::depth, Limit::not_negative),
                   have("diameter", &F::diameter, Limit::not_negative)};
};
template <> struct Fields<Door> {
    using F = Door;
    static constexpr auto list = std::tuple{
        need("id", &F::id, Limit::id), need("centre", &F::centre),
        need("width", &F::width, Limit::positive), need("height", &F::height, Limit::positive)};
};
template <> struct Fields<Hall> {
    using F = Hall;
    static constexpr auto list = std::tuple{have("name", &F::name), need("outline", &F::outline),
                                            need("ceiling", &F::ceiling, Limit::positive),
                                            have("columns", &F::columns), have("doors", &F::doors)};
};
template <> struct Fields<Path> {
    using F = Path;
    static constexpr auto list =
        std::tuple{need("points", &F::points), need("width", &F::width, Limit::positive)};
};
template <> struct Fields<Visitor> {
    using F = Visitor;
    static constexpr auto list = std::tuple{need("id", &F::id, Limit::id),
                                            have("name", &F::name),
                                            need("eye_height", &F::eye_height, Limit::positive),
                                            need("crown", &F::crown, Limit::positive),
                                            have("setback", &F::setback, Limit::not_negative),
                                            have("seated", &F::seated),
                                            have("share", &F::share, Limit::share),
                                            have("source", &F::source)};
};
template <> struct Fields<Patch> {
    using F = Patch;
    static constexpr auto list =
        std::tuple{have("parts", &F::parts), have("low", &F::low), have("high", &F::high)};
};
template <> struct Fields<Target> {
    using F = Target;
    static constexpr auto list =
        std::tuple{need("id", &F::id, Limit::id),
                   have("name", &F::name),
                   need("piece", &F::piece, Limit::id),
                   show("aim", &F::aim),
                   have("patch", &F::patch),
                   have("facing", &F::facing),
                   have("facing_limit", &F::facing_limit, Limit::positive),
                   have("seen_share", &F::seen_share, Limit::share),
                   have("smallest_detail", &F::smallest_detail, Limit::positive)};
};
template <> struct Fields<OwnRule> {
    using F = OwnRule;
    static constexpr auto list = std::tuple{need("id", &F::id, Limit::id), need("value", &F::value),
                                            have("source", &F::source)};
};
template <> struct Fields<RuleChoice> {
    using F = RuleChoice;
    static constexpr auto list = std::tuple{have("use", &F::use, Limit::id), have("own", &F::own)};
};
template <> struct Fields<Settings> {
    using F = Settings;
    static constexpr auto list =
        std::tuple{have("title", &F::title),
                   have("drawn_by", &F::drawn_by),
                   have("owner", &F::legal_owner),
                   have("number", &F::number),
                   have("revision", &F::revision),
                   have("date", &F::date),
                   show("units", &F::units),
                   have("inch_fraction", &F::inch_denominator, Limit::positive),
                   have("setting_ratio", &F::setting_ratio),
                   have("figure_ratio", &F::figure_ratio),
                   have("course", &F::course, Limit::positive),
                   have("placing_tolerance", &F::placing_tolerance, Limit::not_negative),
                   have("turning_tolerance", &F::turning_tolerance, Limit::not_negative),
                   have("note", &F::note, Limit::text)};
};
template <> struct Fields<Document> {
    using F = Document;
    static constexpr auto list = std::tuple{VersionField{},
                                            have("settings", &F::settings),
                                            need("hall", &F::hall),
                                            have("sections", &F::sections),
                                            have("join_lines", &F::join_lines),
                                            have("reference_points", &F::reference_points),
                                            need("path", &F::path),
                                            have("visitors", &F::visitors),
                                            have("rules", &F::rules),
                                            have("pieces", &F::pieces),
                                            have("targets", &F::targets)};
};

// -- helpers of the walkers --

template <class E> struct NamesOf; // of an enum, by value
template <> struct NamesOf<PieceKind> { static constexpr auto& names = piece_kind_names; };
template <> struct NamesOf<Off> { static constexpr auto& names = off_names; };
template <> struct NamesOf<UnitSystem> { static constexpr auto& names = unit_system_names; };
template <> struct NamesOf<TouchHow> { static constexpr auto& names = touch_how_names; };
template <> struct NamesOf<PieceSide> { static constexpr auto& names = piece_side_names; };
template <> struct NamesOf<Aim> { static constexpr auto& names = aim_names; };
template <> struct NamesOf<Support> { static constexpr auto& names = support_keys; };

template <class T> struct IsVector : std::false_type {};
template <class T> struct IsVector<std::vector<T>> : std::true_type {};
template <class T> struct IsOptional : std::false_type {};
template <class T> struct IsOptional<std::optional<T>> : std::true_type {};
template <class T> struct IsShared : std::false_type {};
template <class T> struct IsShared<std::shared_ptr<const T>> : std::true_type {};

// Calls visit(field) for each field of T in order, until one returns false.
template <class T, class Visit> bool each_field(Visit&& visit) {
    return std::apply([&](const auto&... field) { return (visit(field) && ...); },
                      Fields<std::remove_const_t<T>>::list);
}

// Types that remember the token they were read from.
template <class T>
concept Remembers = requires(const T& value) {
    value.as_read;
};

template <class T> constexpr bool always_false = false;

} // namespace standpoint
