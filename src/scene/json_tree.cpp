// Reads JSON text into the positioned tree by SAX, so that nothing recurses on hostile input.
#include "scene/json_tree.h"

#include <algorithm>
#include <cstdint>
#include <set>

#include <nlohmann/json.hpp>

#include "scene/text.h"

namespace standpoint {

namespace {

// Where the number that begins there ends. As the grammar has it, 0 is a number by itself, so that
// 012 is two. For text that holds no number the answer means nothing.
std::size_t number_end(std::string_view text, std::size_t begin) {
    const auto digits = [&](std::size_t at) {
        return std::min(text.find_first_not_of("0123456789", at), text.size());
    };
    const auto is_at = [&](std::size_t at, std::string_view any) {
        return at < text.size() && any.find(text[at]) != any.npos;
    };
    std::size_t at = begin + (is_at(begin, "-") ? 1 : 0);
    at = is_at(at, "0") ? at + 1 : digits(at);
    if (is_at(at, ".")) at = digits(at + 1);
    if (is_at(at, "eE")) at = digits(at + (is_at(at + 1, "+-") ? 2 : 1));
    return at;
}

// Follows the parser's events through the text. By the time an event comes its token has been
// accepted, so finding where the token ends needs no grammar of its own.
class TreeBuilder {
  public:
    TreeBuilder(std::string_view text, const std::string& file) : text_(text), file_(file) {
        if (text_.starts_with("\xEF\xBB\xBF")) cursor_ = 3;
    }

    bool null() { return scalar(JsonKind::null, 4); }
    bool boolean(bool value) { return scalar(JsonKind::boolean, value ? 4 : 5); }
    bool number_integer(std::int64_t value) { return number(static_cast<double>(value)); }
    bool number_unsigned(std::uint64_t value) { return number(static_cast<double>(value)); }
    bool number_float(double value, const std::string&) { return number(value); }
    bool binary(const std::vector<std::uint8_t>&) { return false; }
    bool string(std::string& value) {
        const std::size_t begin = next_token();
        JsonNode node = token_node(JsonKind::string, string_end(begin) - begin);
        node.text = std::move(value);
        return attach(std::move(node));
    }
    bool start_object(std::size_t) { return open(JsonKind::object); }
    bool start_array(std::size_t) { return open(JsonKind::array); }
    bool end_object() { return close(); }
    bool end_array() { return close(); }
    bool key(std::string& name);
    bool parse_error(std::size_t position, const std::string& token,
                     const nlohmann::detail::exception& error);

    Result<JsonNode> take() {
        if (error_) return *error_;
        STANDPOINT_CHECK(root_.has_value());
        return std::move(*root_);
    }

  private:
    struct Level {
        JsonNode node;
        std::set<std::string> seen; // keys, to refuse a second of the same name
    };

    std::size_t next_token() {
        while (cursor_ < text_.size() &&
               std::string_view(" \t\r\n,:").find(text_[cursor_]) != std::string_view::npos)
            ++cursor_;
        return cursor_;
    }
    std::size_t string_end(std::size_t begin) const {
        std::size_t at = begin + 1;
        while (at < text_.size() && text_[at] != '"')
            at += text_[at] == '\\' ? 2 : 1;
        return std::min(at + 1, text_.size());
    }
    JsonNode token_node(JsonKind kind, std::size_t length) {
        JsonNode node;
        node.kind = kind;
        node.begin = next_token();
        cursor_ = node.end = node.begin + length;
        node.token = text_.substr(node.begin, length);
        return node;
    }
    bool scalar(JsonKind kind, std::size_t length) { return attach(token_node(kind, length)); }
    bool number(double value) {
        const std::size_t begin = next_token();
        const std::size_t end = number_end(text_, begin);
        JsonNode node = token_node(JsonKind::number, end - begin);
        node.number = value;
        return attach(std::move(node));
    }
    bool attach(JsonNode node) {
        if (levels_.empty())
            root_ = std::move(node);
        else
            levels_.back().node.items.push_back(std::move(node));
        return true;
    }
    bool open(JsonKind kind) {
        JsonNode node = token_node(kind, 1);
        node.token.clear();
        if (levels_.size() == deepest_json)
            return refuse(node.begin, "found nesting deeper than " + std::to_string(deepest_json) +
                                          ", expected a scene file, which needs less than ten");
        levels_.push_back({std::move(node), {}});
        return true;
    }
    bool close() {
        next_token();
        JsonNode node = std::move(levels_.back().node);
        levels_.pop_back();
        node.end = ++cursor_;
        return attach(std::move(node));
    }
    bool refuse(std::size_t byte, const std::string& message) {
        const std::string pointer = pointer_now();
        error_ = input_error(
            place_of(text_, byte, file_) + (pointer.empty() ? "" : " (" + pointer + ")"), message);
        return false;
    }
    std::string pointer_now() const;

    std::string_view text_;
    const std::string& file_;
    std::size_t cursor_ = 0;
    std::vector<Level> levels_;
    std::optional<JsonNode> root_;
    std::optional<Error> error_;
};

bool TreeBuilder::key(std::string& name) {
    const std::size_t begin = next_token();
    Level& level = levels_.back();
    cursor_ = string_end(begin);
    const bool first = level.seen.insert(name).second;
    level.node.keys.push_back(std::move(name));
    if (!first)
        return refuse(begin, "found the key " + in_quotes(level.node.keys.back()) +
                                 " a second time, expected it once");
    level.node.key_begin.push_back(begin);
    return true;
}

std::string TreeBuilder::pointer_now() const {
    std::string pointer;
    for (const Level& level : levels_) {
        const JsonNode& node = level.node;
        if (node.kind == JsonKind::array)
            pointer += "/" + std::to_string(node.items.size());
        else if (node.keys.size() > node.items.size())
            pointer += pointer_step(shortened(node.keys.back()));
    }
    return pointer;
}

// What the grammar wanted, in our words, from what the parser says was wrong.
std::string expected_by(const std::string& complaint) {
    const auto says = [&](const char* words) { return complaint.find(words) != std::string::npos; };
    if (says("missing closing quote")) return "a closing quote (\")";
    if (says("control character")) return "line breaks and tabs in a text written as \\n and \\t";
    if (says("surrogate") || says("forbidden character after") || says("must be followed by 4"))
        return "a valid escape in the text";
    if (says("number overflow")) return "a number that fits";
    if (says("invalid number")) return "a number such as 1600 or 0.5";
    if (says("invalid literal")) return "a value: a number, a \"text\", true, false, [ or {";
    const std::size_t at = complaint.find("expected ", complaint.find("unexpected ") + 11);
    if (!says("unexpected ") || at == std::string::npos) return "a JSON value";
    const std::string wanted = complaint.substr(at + 9);
    if (wanted == "string literal") return "a key in quotes";
    if (wanted == "end of input") return "the end of the file";
    if (wanted.find("literal") != std::string::npos) return "a value";
    return wanted;
}

bool TreeBuilder::parse_error(std::size_t position, const std::string& token,
                              const nlohmann::detail::exception& error) {
    const std::string complaint = error.what();
    const std::size_t last = std::min(position > 0 ? position - 1 : 0, text_.size());
    while (cursor_ < last &&
           std::string_view(" \t\r\n,:").find(text_[cursor_]) != std::string_view::npos)
        ++cursor_;
    std::size_t byte = std::min(cursor_, last);
    std::string_view bad = text_.substr(byte, last + 1 - byte);
    while (bad.size() > 1 && std::string_view(",]} \t\r\n").find(bad.back()) != bad.npos)
        bad.remove_suffix(1); // what only ended the bad word
    std::string found = in_quotes(bad);
    const bool spoiled_text = complaint.find("invalid string") != std::string::npos;
    if (complaint.find("number overflow") != std::string::npos) {
        byte = next_token();
        found = shortened(token);
    } else if (last >= text_.size() && (spoiled_text || byte >= last)) {
        byte = text_.size();
        found = "the end of the file";
    } else if (spoiled_text) {
        byte = last; // the place inside the text counts, not where the text begins
    }
    return refuse(byte, "found " + found + ", expected " + expected_by(complaint));
}

} // namespace

const JsonNode* JsonNode::find(std::string_view key) const {
    const auto at = std::find(keys.begin(), keys.end(), key);
    return at == keys.end() ? nullptr : &items[static_cast<std::size_t>(at - keys.begin())];
}

void JsonNode::add(std::string key, JsonNode value) {
    kind = JsonKind::object;
    keys.push_back(std::move(key));
    items.push_back(std::move(value));
}

Result<JsonNode> read_json_tree(std::string_view text, const std::string& file) {
    if (const auto bad = find_bad_utf8(text))
        return input_error(place_of(text, *bad, file),
                           "found the byte " + byte_name(text[*bad]) + ", expected text in UTF-8");
    if (const std::size_t zero = text.find('\0'); zero != std::string_view::npos)
        return input_error(place_of(text, zero, file), "found the byte 0x00, expected JSON text");
    TreeBuilder builder(text, file);
    nlohmann::json::sax_parse(text.begin(), text.end(), &builder);
    return builder.take();
}

} // namespace standpoint
