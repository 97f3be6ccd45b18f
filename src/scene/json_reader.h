// Fills values from a positioned tree by the field tables; the first thing that is wrong ends it.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "scene/fields.h"
#include "scene/json_tree.h"

namespace standpoint {

// All keys an object of this type may have.
template <class T> std::vector<std::string> keys_of();

class FieldReader {
  public:
    FieldReader(std::string_view text, const std::string& file, const JsonNode& root)
        : text_(text), file_(file), root_(root) {}

    // False when it failed: error() says why.
    template <class T> bool read(const JsonNode& node, T& out);
    // Refuses keys that are not in the list, naming the nearest one.
    bool only_keys(const JsonNode& object, const std::vector<std::string>& known);
    bool fail(std::size_t byte, std::string message);
    const Error& error() const { return *error_; }

  private:
    bool mismatch(const JsonNode& node, const std::string& expected);
    bool missing(const JsonNode& node, const std::string& key);
    bool read_text(const JsonNode& node, std::string& out);
    bool read_bool(const JsonNode& node, bool& out);
    bool read_int(const JsonNode& node, int& out);
    bool read_length(const JsonNode& node, Length& out);
    bool read_angle(const JsonNode& node, Angle& out);
    bool read_ratio(const JsonNode& node, Ratio& out);
    bool read_number(const JsonNode& node, Number& out);
    bool read_support(const JsonNode& object, Support& support, std::string& host);
    // The index of the one name of `count` that is a key of the object.
    std::optional<std::size_t> only_one(const JsonNode& object, const char* const* names,
                                        std::size_t count, const char* what);
    bool read_lengths(const JsonNode& node, std::initializer_list<Length*> out);
    template <class E> bool read_enum(const JsonNode& node, E& out);
    template <class T> bool read_list(const JsonNode& node, std::vector<T>& out);
    template <class T> bool read_object(const JsonNode& node, T& out);

    template <class Owner, class Member>
    bool read_field(const JsonNode& object, Owner& owner, const Field<Owner, Member>& field);
    bool read_field(const JsonNode& object, Document& document, const VersionField&);
    template <class Owner>
    bool read_field(const JsonNode& object, Owner& owner, const SupportField&) {
        return read_support(object, owner.support, owner.host);
    }
    template <class Owner, class Variant>
    bool read_field(const JsonNode& object, Owner& owner, const OneOf<Owner, Variant>& field);
    bool read_field(const JsonNode& object, JoinLine& line, const BetweenField&);

    std::string_view text_;
    const std::string& file_;
    const JsonNode& root_;
    std::optional<Error> error_;
};

// -- how it is done --

template <class Owner, class Member>
void append_keys(std::vector<std::string>& keys, const Field<Owner, Member>& field) {
    keys.emplace_back(field.key);
}
inline void append_keys(std::vector<std::string>& keys, const VersionField&) {
    keys.emplace_back(version_key);
}
inline void append_keys(std::vector<std::string>& keys, const BetweenField&) {
    keys.emplace_back(between_key);
}
inline void append_keys(std::vector<std::string>& keys, const SupportField&) {
    keys.insert(keys.end(), std::begin(support_keys) + 1, std::end(support_keys));
}
template <class Owner, class Variant>
void append_keys(std::vector<std::string>& keys, const OneOf<Owner, Variant>& field) {
    keys.insert(keys.end(), field.names, field.names + std::variant_size_v<Variant>);
}

template <class T> std::vector<std::string> keys_of() {
    std::vector<std::string> keys;
    each_field<T>([&](const auto& field) {
        append_keys(keys, field);
        return true;
    });
    return keys;
}

template <class E> bool FieldReader::read_enum(const JsonNode& node, E& out) {
    std::string choices;
    int value = 0;
    for (const char* name : NamesOf<E>::names) {
        if (node.kind == JsonKind::string && node.text == name) {
            out = static_cast<E>(value);
            return true;
        }
        choices += (value++ > 0 ? ", " : "") + in_quotes(name);
    }
    return mismatch(node, "one of " + choices);
}

template <class T> bool FieldReader::read_list(const JsonNode& node, std::vector<T>& out) {
    if (node.kind != JsonKind::array) return mismatch(node, "a list, [...]");
    out.resize(node.items.size());
    for (std::size_t i = 0; i < out.size(); ++i)
        if (!read(node.items[i], out[i])) return false;
    return true;
}

template <class T> bool FieldReader::read_object(const JsonNode& node, T& out) {
    if (node.kind != JsonKind::object) return mismatch(node, "an object, {...}");
    static const std::vector<std::string> known = keys_of<T>();
    if (!only_keys(node, known)) return false;
    return each_field<T>([&](const auto& field) { return read_field(node, out, field); });
}

template <class Owner, class Member>
bool FieldReader::read_field(const JsonNode& object, Owner& owner,
                             const Field<Owner, Member>& field) {
    const JsonNode* node = object.find(field.key);
    if (node != nullptr) return read(*node, owner.*field.member);
    return field.presence != Presence::needed || missing(object, field.key);
}

// Calls read with what the variant holds once it is of the kind with this index.
template <std::size_t Index = 0, class Variant, class Read>
bool read_kind(std::size_t kind, Variant& variant, const Read& read) {
    if constexpr (Index < std::variant_size_v<Variant>) {
        if (kind != Index) return read_kind<Index + 1>(kind, variant, read);
        return read(variant.template emplace<Index>());
    } else {
        return false;
    }
}

template <class Owner, class Variant>
bool FieldReader::read_field(const JsonNode& object, Owner& owner,
                             const OneOf<Owner, Variant>& field) {
    const auto kind = only_one(object, field.names, std::variant_size_v<Variant>, field.what);
    if (!kind) return false;
    const JsonNode& node = *object.find(field.names[*kind]);
    return read_kind(*kind, owner.*field.member, [&](auto& one) { return read(node, one); });
}

template <class T> bool FieldReader::read(const JsonNode& node, T& out) {
    if constexpr (std::is_same_v<T, std::string>) {
        return read_text(node, out);
    } else if constexpr (std::is_same_v<T, bool>) {
        return read_bool(node, out);
    } else if constexpr (std::is_same_v<T, int>) {
        return read_int(node, out);
    } else if constexpr (std::is_same_v<T, Length>) {
        return read_length(node, out);
    } else if constexpr (std::is_same_v<T, Angle>) {
        return read_angle(node, out);
    } else if constexpr (std::is_same_v<T, Ratio>) {
        return read_ratio(node, out);
    } else if constexpr (std::is_same_v<T, Number>) {
        return read_number(node, out);
    } else if constexpr (std::is_same_v<T, PlanPoint>) {
        return read_lengths(node, {&out.x, &out.y});
    } else if constexpr (std::is_same_v<T, Point3>) {
        return read_lengths(node, {&out.x, &out.y, &out.z});
    } else if constexpr (std::is_enum_v<T>) {
        return read_enum(node, out);
    } else if constexpr (IsVector<T>::value) {
        return read_list(node, out);
    } else if constexpr (IsOptional<T>::value) {
        return read(node, out.emplace());
    } else if constexpr (IsShared<T>::value) {
        auto value = std::make_shared<std::remove_const_t<typename T::element_type>>();
        if (!read(node, *value)) return false;
        out = std::move(value);
        return true;
    } else {
        return read_object(node, out);
    }
}

} // namespace standpoint
