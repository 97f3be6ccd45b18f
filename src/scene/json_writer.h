// Turns values into a tree of JSON tokens by the field tables.
#pragma once

#include "scene/fields.h"
#include "scene/json_tree.h"

namespace standpoint {

JsonNode json_token(std::string token);

// As it was read when that still says the same value, else newly printed.
std::string token_of(const Length& length);
std::string token_of(const Angle& angle);
std::string token_of(const Ratio& ratio);
std::string token_of(const Number& number);

template <class T> JsonNode written(const T& value);

// -- how it is done --

template <class T> bool untouched(const T& value, const T& fresh);

template <class Owner, class Member>
bool untouched_field(const Owner& value, const Owner& fresh, const Field<Owner, Member>& field) {
    return untouched(value.*field.member, fresh.*field.member);
}
// The other kinds of keys stand in types that are never left out.
template <class Owner, class Special>
bool untouched_field(const Owner&, const Owner&, const Special&) {
    return false;
}

// Whether a value may be left out: it is what reading would put there, and was not written down.
template <class T> bool untouched(const T& value, const T& fresh) {
    if constexpr (Remembers<T>) {
        return value == fresh && value.as_read.empty();
    } else if constexpr (IsShared<T>::value) {
        using Value = std::remove_const_t<typename T::element_type>;
        return untouched(*value, Value{});
    } else if constexpr (IsOptional<T>::value) {
        return !value.has_value();
    } else if constexpr (IsVector<T>::value) {
        return value.empty();
    } else if constexpr (Described<T>) {
        return each_field<T>(
            [&](const auto& field) { return untouched_field(value, fresh, field); });
    } else {
        return value == fresh;
    }
}

template <class Owner, class Member>
void write_field(JsonNode& object, const Owner& owner, const Field<Owner, Member>& field) {
    static const Owner fresh{};
    const Member& value = owner.*field.member;
    if (field.presence != Presence::when_set || !untouched(value, fresh.*field.member))
        object.add(field.key, written(value));
}
inline void write_field(JsonNode& object, const Document&, const VersionField&) {
    object.add(version_key, json_token(std::to_string(document_version)));
}
template <class Owner> void write_field(JsonNode& object, const Owner& owner, const SupportField&) {
    if (owner.support != Support::none)
        object.add(support_keys[static_cast<int>(owner.support)], written(owner.host));
}
template <class Owner, class Variant>
void write_field(JsonNode& object, const Owner& owner, const OneOf<Owner, Variant>& field) {
    const Variant& held = owner.*field.member;
    object.add(field.names[held.index()],
               std::visit([](const auto& one) { return written(one); }, held));
}
inline void write_field(JsonNode& object, const JoinLine& line, const BetweenField&) {
    object.add(between_key, written(std::vector<std::string>{line.between_a, line.between_b}));
}

template <class T> JsonNode written(const T& value) {
    JsonNode node;
    if constexpr (std::is_same_v<T, std::string>) {
        return json_token(json_string(value));
    } else if constexpr (std::is_same_v<T, bool>) {
        return json_token(value ? "true" : "false");
    } else if constexpr (std::is_same_v<T, int>) {
        return json_token(std::to_string(value));
    } else if constexpr (Remembers<T>) {
        return json_token(token_of(value));
    } else if constexpr (std::is_enum_v<T>) {
        return json_token(json_string(NamesOf<T>::names[static_cast<int>(value)]));
    } else if constexpr (std::is_same_v<T, PlanPoint>) {
        return written(std::vector<Length>{value.x, value.y});
    } else if constexpr (std::is_same_v<T, Point3>) {
        return written(std::vector<Length>{value.x, value.y, value.z});
    } else if constexpr (IsVector<T>::value) {
        node.kind = JsonKind::array;
        for (const auto& item : value)
            node.items.push_back(written(item));
        return node;
    } else if constexpr (IsOptional<T>::value || IsShared<T>::value) {
        return written(*value);
    } else {
        node.kind = JsonKind::object;
        each_field<T>([&](const auto& field) {
            write_field(node, value, field);
            return true;
        });
        return node;
    }
}

} // namespace standpoint
