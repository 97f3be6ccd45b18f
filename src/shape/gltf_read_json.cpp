// The JSON of a glTF file: parsing with limits, and checked ways into the values.
#include "shape/gltf_read_json.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "measure/length.h"

namespace standpoint::gltf {

namespace {

// Builds the tree and stops at the first thing that is refused.
class Builder : public nlohmann::json_sax<nlohmann::json> {
  public:
    JsonValue root;
    std::string problem;

    bool null() override { return put({}); }
    bool boolean(bool value) override { return put({value}); }
    bool number_integer(number_integer_t value) override {
        return put({static_cast<double>(value)});
    }
    bool number_unsigned(number_unsigned_t value) override {
        return put({static_cast<double>(value)});
    }
    bool number_float(number_float_t value, const string_t&) override { return put({value}); }
    bool string(string_t& value) override { return put({std::move(value)}); }
    bool binary(binary_t&) override { return refuse("found binary data, expected JSON text"); }
    bool key(string_t& value) override {
        keys_.push_back(std::move(value));
        return true;
    }
    bool start_object(std::size_t) override { return open({JsonObject{}}); }
    bool start_array(std::size_t) override { return open({JsonList{}}); }
    bool end_array() override { return close(); }
    bool end_object() override {
        auto& members = std::get<JsonObject>(open_.back().data);
        std::stable_sort(members.begin(), members.end(),
                         [](const auto& a, const auto& b) { return a.key < b.key; });
        const auto twice =
            std::adjacent_find(members.begin(), members.end(),
                               [](const auto& a, const auto& b) { return a.key == b.key; });
        if (twice != members.end())
            return refuse(fmt::format("found the key \"{}\" twice in one object, expected it once",
                                      printable(twice->key)));
        return close();
    }
    bool parse_error(std::size_t position, const std::string& token,
                     const nlohmann::detail::exception&) override {
        return refuse(fmt::format("at byte {}: found \"{}\", expected valid JSON in UTF-8",
                                  position, printable(token)));
    }

  private:
    std::vector<JsonValue> open_;   // lists and objects not yet ended
    std::vector<std::string> keys_; // key of each open object's next member
    std::size_t values_ = 0;

    bool refuse(std::string why) {
        if (problem.empty()) problem = std::move(why);
        return false;
    }
    bool counted() {
        if (++values_ <= most_json_values) return true;
        return refuse(
            fmt::format("found more than {0} values, expected at most {0}", most_json_values));
    }
    bool open(JsonValue value) {
        if (open_.size() >= most_json_levels)
            return refuse(fmt::format("found JSON nested deeper than {0}, expected at most {0}",
                                      most_json_levels));
        open_.push_back(std::move(value));
        return counted();
    }
    bool close() {
        JsonValue value = std::move(open_.back());
        open_.pop_back();
        return attach(std::move(value));
    }
    bool put(JsonValue value) { return counted() && attach(std::move(value)); }
    bool attach(JsonValue value) {
        if (open_.empty()) {
            root = std::move(value);
        } else if (auto* list = std::get_if<JsonList>(&open_.back().data)) {
            list->push_back(std::move(value));
        } else {
            std::get<JsonObject>(open_.back().data)
                .push_back({std::move(keys_.back()), std::move(value)});
            keys_.pop_back();
        }
        return true;
    }
};

constexpr double largest_whole = 9007199254740992.0; // 2^53

template <class T> const T* kind(const Spot& spot) {
    return spot.value ? std::get_if<T>(&spot.value->data) : nullptr;
}

// Pointers escape ~ and / (RFC 6901).
std::string pointer_token(std::string_view key) {
    std::string out;
    for (const char c : key) {
        if (c == '~')
            out += "~0";
        else if (c == '/')
            out += "~1";
        else
            out += c;
    }
    return printable(out);
}

} // namespace

Result<JsonValue> parse_json(std::string_view text, const std::string& file) {
    Builder builder;
    const bool done = nlohmann::json::sax_parse(text.begin(), text.end(), &builder);
    if (!done) return input_error(file, builder.problem);
    if (!std::holds_alternative<JsonObject>(builder.root.data))
        return input_error(file, "found JSON that is no object, expected a glTF object");
    return std::move(builder.root);
}

std::string printable(std::string_view text, std::size_t most) {
    std::string out;
    for (const char c : text.substr(0, most)) {
        const auto byte = static_cast<unsigned char>(c);
        out += byte < 0x20 || byte == 0x7f ? '_' : c;
    }
    if (text.size() <= most) return out;
    // Do not leave half a UTF-8 character at the cut.
    while (!out.empty() && (static_cast<unsigned char>(out.back()) & 0xc0) == 0x80)
        out.pop_back();
    if (!out.empty() && static_cast<unsigned char>(out.back()) >= 0xc0) out.pop_back();
    return out + "…";
}

Error wrong(const Spot& spot, std::string_view found, std::string_view expected) {
    const std::string at = spot.pointer.empty() ? "" : spot.pointer + ": ";
    return input_error(*spot.file, fmt::format("{}found {}, expected {}", at, found, expected));
}

std::string describe(const Spot& spot) {
    if (!spot) return "nothing";
    if (const auto* truth = kind<bool>(spot)) return *truth ? "true" : "false";
    if (const auto* number = kind<double>(spot)) return print_exact(*number);
    if (const auto* text = kind<std::string>(spot)) return '"' + printable(*text) + '"';
    if (const auto* list = kind<JsonList>(spot)) return fmt::format("a list of {}", list->size());
    return kind<JsonObject>(spot) ? "an object" : "null";
}

Spot member(const Spot& owner, std::string_view key) {
    Spot out{nullptr, owner.pointer + "/" + pointer_token(key), owner.file};
    if (const auto* members = kind<JsonObject>(owner)) {
        const auto at =
            std::lower_bound(members->begin(), members->end(), key,
                             [](const auto& m, std::string_view k) { return m.key < k; });
        if (at != members->end() && at->key == key) out.value = &at->value;
    }
    return out;
}

Result<Spot> object_member(const Spot& owner, std::string_view key) {
    Spot spot = member(owner, key);
    if (spot && !kind<JsonObject>(spot)) return wrong(spot, describe(spot), "an object");
    return spot;
}

Result<Spot> list_member(const Spot& owner, std::string_view key) {
    Spot spot = member(owner, key);
    if (spot && !kind<JsonList>(spot)) return wrong(spot, describe(spot), "a list");
    return spot;
}

std::size_t length(const Spot& list) {
    const auto* items = kind<JsonList>(list);
    return items ? items->size() : 0;
}

Spot item(const Spot& list, std::size_t index) {
    STANDPOINT_CHECK(index < length(list));
    return {&std::get<JsonList>(list.value->data)[index], fmt::format("{}/{}", list.pointer, index),
            list.file};
}

Result<Spot> object_item(const Spot& list, std::size_t index) {
    Spot spot = item(list, index);
    if (!kind<JsonObject>(spot)) return wrong(spot, describe(spot), "an object");
    return spot;
}

Result<std::optional<double>> number_member(const Spot& owner, std::string_view key) {
    const Spot spot = member(owner, key);
    if (!spot) return std::optional<double>();
    const auto* number = kind<double>(spot);
    if (!number) return wrong(spot, describe(spot), "a number");
    return std::optional<double>(*number);
}

Result<double> number_member(const Spot& owner, std::string_view key, double fallback, double low,
                             double high) {
    STANDPOINT_TRY(found, number_member(owner, key));
    const double number = found.value_or(fallback);
    if (number >= low && number <= high) return number;
    return wrong(member(owner, key), print_exact(number),
                 std::isinf(high)
                     ? fmt::format("a number of at least {}", print_exact(low))
                     : fmt::format("a number from {} to {}", print_exact(low), print_exact(high)));
}

Result<std::optional<std::uint64_t>> whole_member(const Spot& owner, std::string_view key) {
    const Spot spot = member(owner, key);
    if (!spot) return std::optional<std::uint64_t>();
    const auto* number = kind<double>(spot);
    if (!number || *number < 0 || *number > largest_whole || *number != std::floor(*number))
        return wrong(spot, describe(spot), "a whole number of at least 0");
    return std::optional<std::uint64_t>(static_cast<std::uint64_t>(*number));
}

Result<std::uint64_t> whole_member(const Spot& owner, std::string_view key,
                                   std::uint64_t fallback) {
    STANDPOINT_TRY(found, whole_member(owner, key));
    return found.value_or(fallback);
}

Result<std::uint64_t> needed_whole(const Spot& owner, std::string_view key) {
    STANDPOINT_TRY(found, whole_member(owner, key));
    if (!found) return wrong(member(owner, key), "nothing", "a whole number of at least 0");
    return *found;
}

Result<std::optional<std::string>> text_member(const Spot& owner, std::string_view key) {
    const Spot spot = member(owner, key);
    if (!spot) return std::optional<std::string>();
    const auto* text = kind<std::string>(spot);
    if (!text) return wrong(spot, describe(spot), "a text");
    return std::optional<std::string>(*text);
}

Result<bool> flag_member(const Spot& owner, std::string_view key, bool fallback) {
    const Spot spot = member(owner, key);
    if (!spot) return fallback;
    const auto* truth = kind<bool>(spot);
    if (!truth) return wrong(spot, describe(spot), "true or false");
    return *truth;
}

Result<std::vector<double>> numbers_member(const Spot& owner, std::string_view key,
                                           std::size_t count) {
    STANDPOINT_TRY(list, list_member(owner, key));
    std::vector<double> out;
    if (!list) return out;
    if (length(list) != count)
        return wrong(list, describe(list), fmt::format("a list of {} numbers", count));
    for (std::size_t i = 0; i < count; ++i) {
        const Spot spot = item(list, i);
        const auto* number = kind<double>(spot);
        if (!number) return wrong(spot, describe(spot), "a number");
        out.push_back(*number);
    }
    return out;
}

Result<std::uint32_t> index_at(const Spot& spot, std::size_t size, std::string_view what) {
    const auto* number = kind<double>(spot);
    if (number && *number >= 0 && *number < static_cast<double>(size) &&
        *number == std::floor(*number))
        return static_cast<std::uint32_t>(*number);
    if (size == 0)
        return wrong(spot, describe(spot), fmt::format("no index, as {} is empty", what));
    return wrong(spot, describe(spot), fmt::format("an index into {}, 0 to {}", what, size - 1));
}

Result<std::optional<std::uint32_t>> index_member(const Spot& owner, std::string_view key,
                                                  const Spot& list, std::string_view what) {
    const Spot spot = member(owner, key);
    if (!spot) return std::optional<std::uint32_t>();
    STANDPOINT_TRY(index, index_at(spot, length(list), what));
    return std::optional<std::uint32_t>(index);
}

} // namespace standpoint::gltf
