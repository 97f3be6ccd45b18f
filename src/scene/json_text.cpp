// The text side of the JSON tree: places, pointers, tokens and the layout of files.
#include "scene/json_tree.h"

#include <algorithm>
#include <charconv>

#include <fmt/format.h>

namespace standpoint {

namespace {

constexpr std::size_t line_width = 100;

bool is_continuation(char c) {
    return (static_cast<unsigned char>(c) & 0xC0) == 0x80;
}

bool is_scalar(const JsonNode& node) {
    return node.kind != JsonKind::array && node.kind != JsonKind::object;
}

// How many objects lie inside each other within the node, itself not counted.
int objects_within(const JsonNode& node) {
    int most = 0;
    for (const JsonNode& item : node.items)
        most = std::max(most, objects_within(item) + (item.kind == JsonKind::object ? 1 : 0));
    return most;
}

// Appends the node on one line; false as soon as it is longer than `room`.
bool append_line(const JsonNode& node, std::size_t limit, std::string& out) {
    if (out.size() > limit) return false;
    if (is_scalar(node)) {
        out += node.token;
        return out.size() <= limit;
    }
    const bool object = node.kind == JsonKind::object;
    const char* padding = object && !node.items.empty() ? " " : "";
    out += object ? "{" : "[";
    out += padding;
    for (std::size_t i = 0; i < node.items.size(); ++i) {
        if (i > 0) out += ", ";
        if (object) out += json_string(node.keys[i]) + ": ";
        if (!append_line(node.items[i], limit, out)) return false;
    }
    out += padding;
    out += object ? "}" : "]";
    return out.size() <= limit;
}

class Layout {
  public:
    std::string take(const JsonNode& root) {
        value(root, 0, true);
        out_ += '\n';
        return std::move(out_);
    }

  private:
    std::size_t column() const { return out_.size() - line_begin_; }
    void new_line(std::size_t indent) {
        out_ += '\n';
        line_begin_ = out_.size();
        out_.append(2 * indent, ' ');
    }

    // One column is kept for the comma that may follow.
    bool try_line(const JsonNode& node) {
        if (objects_within(node) > 1) return false;
        std::string line;
        if (!append_line(node, line_width - 1 - std::min(column(), line_width - 1), line))
            return false;
        out_ += line;
        return true;
    }

    // Lists of numbers or points run on to the next line instead of taking a line each.
    void fill(const JsonNode& node, std::size_t indent) {
        out_ += "[";
        new_line(indent + 1);
        for (std::size_t i = 0; i < node.items.size(); ++i) {
            std::string item;
            append_line(node.items[i], std::string::npos, item);
            const bool first = column() == 2 * (indent + 1);
            if (!first && column() + 1 + item.size() + 1 > line_width)
                new_line(indent + 1);
            else if (!first)
                out_ += " ";
            out_ += item;
            if (i + 1 < node.items.size()) out_ += ",";
        }
        new_line(indent);
        out_ += "]";
    }

    void value(const JsonNode& node, std::size_t indent, bool open_out) {
        if (is_scalar(node)) {
            out_ += node.token;
            return;
        }
        if (!open_out && try_line(node)) return;
        const bool object = node.kind == JsonKind::object;
        const auto flat = [](const JsonNode& item) {
            return item.kind != JsonKind::object &&
                   std::all_of(item.items.begin(), item.items.end(), is_scalar);
        };
        if (!object && std::all_of(node.items.begin(), node.items.end(), flat)) {
            fill(node, indent);
            return;
        }
        out_ += object ? "{" : "[";
        for (std::size_t i = 0; i < node.items.size(); ++i) {
            new_line(indent + 1);
            if (object) out_ += json_string(node.keys[i]) + ": ";
            const JsonNode& item = node.items[i];
            const bool list_of_objects = item.kind == JsonKind::array && objects_within(item) > 0;
            value(item, indent + 1, indent == 0 && object && list_of_objects);
            if (i + 1 < node.items.size()) out_ += ",";
        }
        new_line(indent);
        out_ += object ? "}" : "]";
    }

    std::string out_;
    std::size_t line_begin_ = 0;
};

} // namespace

std::string place_of(std::string_view text, std::size_t byte, const std::string& file) {
    std::size_t line = 1, column = 1;
    const std::size_t first = text.starts_with("\xEF\xBB\xBF") ? 3 : 0;
    for (std::size_t i = first; i < std::min(byte, text.size()); ++i) {
        if (text[i] == '\n') {
            ++line;
            column = 1;
        } else if (!is_continuation(text[i])) {
            ++column;
        }
    }
    return fmt::format("{}:{}:{}", file, line, column);
}

std::string pointer_step(std::string_view key) {
    std::string step = "/";
    for (const char c : key) {
        if (c == '~')
            step += "~0";
        else if (c == '/')
            step += "~1";
        else
            step += c;
    }
    return step;
}

std::string shortened(std::string_view text) {
    constexpr std::size_t longest = 60;
    if (text.size() <= longest) return std::string(text);
    std::size_t end = longest;
    while (end > 0 && is_continuation(text[end]))
        --end;
    return std::string(text.substr(0, end)) + "...";
}

std::string pointer_of(const JsonNode& root, std::size_t byte) {
    std::string pointer;
    const JsonNode* node = &root;
    bool deeper = true;
    while (deeper) {
        deeper = false;
        for (std::size_t i = 0; i < node->items.size() && !deeper; ++i) {
            const bool object = node->kind == JsonKind::object;
            const JsonNode& item = node->items[i];
            if (byte >= item.end || byte < (object ? node->key_begin[i] : item.begin)) continue;
            pointer += object ? pointer_step(shortened(node->keys[i])) : "/" + std::to_string(i);
            node = &item;
            deeper = true;
        }
    }
    return pointer;
}

std::size_t byte_of(const JsonNode& root, std::string_view pointer) {
    const JsonNode* node = &root;
    while (!pointer.empty()) {
        const std::size_t end = std::min(pointer.find('/', 1), pointer.size());
        const std::string_view step = pointer.substr(0, end);
        pointer.remove_prefix(end);
        std::size_t index = node->items.size();
        if (node->kind == JsonKind::object) {
            for (std::size_t i = 0; i < node->keys.size(); ++i)
                if (pointer_step(node->keys[i]) == step) index = i;
        } else {
            std::size_t number = 0;
            const auto read = std::from_chars(step.data() + 1, step.data() + step.size(), number);
            if (read.ec == std::errc() && read.ptr == step.data() + step.size()) index = number;
        }
        if (index >= node->items.size()) break;
        node = &node->items[index];
    }
    return node->begin;
}

std::string json_string(std::string_view text) {
    std::string out = "\"";
    for (const char c : text) {
        switch (c) {
        case '"':
            out += "\\\"";
            break;
        case '\\':
            out += "\\\\";
            break;
        case '\n':
            out += "\\n";
            break;
        case '\t':
            out += "\\t";
            break;
        case '\r':
            out += "\\r";
            break;
        default:
            if (static_cast<unsigned char>(c) < 0x20 || c == 0x7F)
                out += fmt::format("\\u{:04x}", static_cast<unsigned>(c));
            else
                out += c;
        }
    }
    return out + "\"";
}

std::string describe_found(const JsonNode& node) {
    switch (node.kind) {
    case JsonKind::string:
        return in_quotes(node.text);
    case JsonKind::array:
        return fmt::format("a list of {}", node.items.size());
    case JsonKind::object:
        return "an object";
    default:
        return shortened(node.token);
    }
}

std::string lay_out(const JsonNode& root) {
    return Layout().take(root);
}

std::string lay_out_line(const JsonNode& root) {
    std::string line;
    append_line(root, std::string::npos, line);
    return line;
}

} // namespace standpoint
