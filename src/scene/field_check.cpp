// Walks a document's fields.
#include "scene/field_check.h"

#include <cmath>

#include <fmt/format.h>

#include "scene/fields.h"
#include "scene/meaning.h"
#include "scene/text.h"

namespace standpoint {

namespace {

constexpr std::size_t longest_name = 1000;
constexpr std::size_t longest_text = 20000;
constexpr double largest_angle_deg = 36000;
constexpr double smallest_ratio = 0.001, largest_ratio = 10000;

Trouble limit_trouble(double value, double largest, const char* unit, Limit limit) {
    const auto found = [&](const std::string& expected) {
        return trouble("", "found " + print_exact(value) + unit + ", expected " + expected);
    };
    if (!std::isfinite(value)) return trouble("", "found no finite number, expected one");
    if (std::abs(value) > largest)
        return found(fmt::format("at most {:.0f}{} either way", largest, unit));
    if (limit == Limit::positive && value <= 0) return found("more than 0");
    if (limit == Limit::not_negative && value < 0) return found("0 or more");
    if (limit == Limit::share && (value < 0 || value > 1)) return found("a share from 0 to 1");
    return std::nullopt;
}

Trouble check(const Length& length, Limit limit) {
    return limit_trouble(length.mm, largest_length_mm, " mm", limit);
}
Trouble check(const Angle& angle, Limit limit) {
    return limit_trouble(angle.deg, largest_angle_deg, " degrees", limit);
}
Trouble check(const Number& number, Limit limit) {
    return limit_trouble(number.value, largest_length_mm, "", limit);
}
Trouble check(const Ratio& ratio, Limit) {
    if (!std::isfinite(ratio.value)) return trouble("", "found no finite number, expected one");
    if (ratio.value >= smallest_ratio && ratio.value <= largest_ratio) return std::nullopt;
    return trouble("",
                   "found a ratio of " + print_exact(ratio.value) + ", expected 0.001 to 10000");
}
Trouble check(int number, Limit limit) {
    return limit_trouble(number, largest_length_mm, "", limit);
}

Trouble check(const std::string& text, Limit limit) {
    if (limit == Limit::id && !is_id(text))
        return trouble("", "found " + in_quotes(text) +
                               ", expected an id of small letters, digits and hyphens, at most 64");
    if (limit == Limit::label_id && !is_label_id(text))
        return trouble("", "found " + in_quotes(text) +
                               ", expected an id of letters, digits and hyphens, at most 64");
    if (find_bad_utf8(text)) return trouble("", "found broken text, expected UTF-8");
    const std::size_t longest = limit == Limit::text ? longest_text : longest_name;
    if (text.size() > longest)
        return trouble(
            "", fmt::format("found a text of {} bytes, expected at most {}", text.size(), longest));
    for (const char c : text) {
        const bool control = static_cast<unsigned char>(c) < 0x20 || c == 0x7F;
        if (control && !(limit == Limit::text && (c == '\n' || c == '\t')))
            return trouble("", "found the control character " + byte_name(c) +
                                   " in a text, expected none");
    }
    return std::nullopt;
}

template <class T> Trouble check(const T& value, Limit limit);

template <class Owner, class Member>
Trouble check_field(const Owner& owner, const Field<Owner, Member>& field) {
    return within_key(field.key, check(owner.*field.member, field.limit));
}
Trouble check_field(const Document&, const VersionField&) {
    return std::nullopt;
}
Trouble check_field(const Piece& piece, const SupportField&) {
    const bool none = piece.support == Support::none;
    if (none != piece.host.empty())
        return trouble("", none ? "found a host without a support, expected neither"
                                : "found a support without a host, expected its id");
    if (none) return std::nullopt;
    return within_key(support_keys[static_cast<int>(piece.support)], check(piece.host, Limit::id));
}
template <class Owner, class Variant>
Trouble check_field(const Owner& owner, const OneOf<Owner, Variant>& field) {
    const Variant& held = owner.*field.member;
    return within_key(field.names[held.index()],
                      std::visit([](const auto& one) { return check(one, Limit::any); }, held));
}
Trouble check_field(const JoinLine& line, const BetweenField&) {
    if (auto fault = check(line.between_a, Limit::id)) return within("/between/0", fault);
    return within("/between/1", check(line.between_b, Limit::id));
}

template <class T> Trouble check_all(const std::vector<T>& items, Limit limit) {
    for (std::size_t i = 0; i < items.size(); ++i)
        if (Trouble found = check(items[i], limit))
            return within("/" + std::to_string(i), std::move(found));
    return std::nullopt;
}

template <class T> Trouble check_described(const T& value) {
    Trouble found;
    each_field<T>([&](const auto& field) {
        found = check_field(value, field);
        return !found.has_value();
    });
    return found ? found : meaning(value);
}

template <class T> Trouble check(const T& value, Limit limit) {
    if constexpr (IsVector<T>::value) {
        return check_all(value, limit);
    } else if constexpr (IsOptional<T>::value) {
        return value ? check(*value, limit) : std::nullopt;
    } else if constexpr (IsShared<T>::value) {
        STANDPOINT_CHECK(value != nullptr);
        return check(*value, limit);
    } else if constexpr (std::is_same_v<T, PlanPoint>) {
        if (auto fault = check(value.x, limit)) return within("/0", fault);
        return within("/1", check(value.y, limit));
    } else if constexpr (std::is_same_v<T, Point3>) {
        if (auto fault = check(value.x, limit)) return within("/0", fault);
        if (auto fault = check(value.y, limit)) return within("/1", fault);
        return within("/2", check(value.z, limit));
    } else if constexpr (std::is_same_v<T, bool> || std::is_enum_v<T>) {
        return std::nullopt;
    } else {
        return check_described(value);
    }
}

} // namespace

Trouble check_fields(const Document& document) {
    return check(document, Limit::any);
}

} // namespace standpoint
