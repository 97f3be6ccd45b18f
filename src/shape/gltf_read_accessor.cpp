// Buffers, views and accessors of a glTF file: every range, stride and type checked before use.
#include "shape/gltf_read_accessor.h"

#include <algorithm>
#include <cstring>

#include <fmt/format.h>

namespace standpoint::gltf {

namespace {

template <class T> T load_as(const char* at) {
    T out;
    std::memcpy(&out, at, sizeof out);
    return out;
}

double raw_value(Component component, const char* at) {
    switch (component) {
    case Component::i8:
        return load_as<std::int8_t>(at);
    case Component::u8:
        return load_as<std::uint8_t>(at);
    case Component::i16:
        return load_as<std::int16_t>(at);
    case Component::u16:
        return load_as<std::uint16_t>(at);
    case Component::u32:
        return load_as<std::uint32_t>(at);
    case Component::f32:
        return static_cast<double>(load_as<float>(at));
    }
    return 0;
}

std::uint32_t raw_whole(Component component, const char* at) {
    if (component == Component::u8) return load_as<std::uint8_t>(at);
    if (component == Component::u16) return load_as<std::uint16_t>(at);
    STANDPOINT_CHECK(component == Component::u32);
    return load_as<std::uint32_t>(at);
}

// glTF 2.0, 3.6.2.2: signed values map by max(c / 127, -1) and the like, unsigned by c / 255.
double normalised_value(Component component, double raw) {
    switch (component) {
    case Component::i8:
        return std::max(raw / 127.0, -1.0);
    case Component::u8:
        return raw / 255.0;
    case Component::i16:
        return std::max(raw / 32767.0, -1.0);
    case Component::u16:
        return raw / 65535.0;
    default:
        return raw;
    }
}

const char* element(const Accessor& a, std::uint32_t i) {
    std::uint32_t low = 0, high = a.sparse_count;
    const std::size_t size = component_bytes(a.sparse_component);
    while (low < high) {
        const std::uint32_t middle = low + (high - low) / 2;
        if (raw_whole(a.sparse_component, a.sparse_indices + middle * size) < i)
            low = middle + 1;
        else
            high = middle;
    }
    if (low < a.sparse_count && raw_whole(a.sparse_component, a.sparse_indices + low * size) == i)
        return a.sparse_values +
               low * component_bytes(a.component) * static_cast<std::size_t>(a.width);
    return a.bytes ? a.bytes + i * a.stride : nullptr;
}

Result<Component> component_member(const Spot& spot) {
    STANDPOINT_TRY(type, needed_whole(spot, "componentType"));
    for (const Component c : {Component::i8, Component::u8, Component::i16, Component::u16,
                              Component::u32, Component::f32})
        if (type == static_cast<std::uint64_t>(c)) return c;
    return wrong(member(spot, "componentType"), std::to_string(type),
                 "5120, 5121, 5122, 5123, 5125 or 5126");
}

Result<int> width_member(const Spot& spot) {
    STANDPOINT_TRY(type, text_member(spot, "type"));
    const std::string name = type.value_or("");
    if (name == "SCALAR") return 1;
    if (name == "VEC2") return 2;
    if (name == "VEC3") return 3;
    if (name == "VEC4") return 4;
    const Spot at = member(spot, "type");
    return wrong(at, describe(at), "SCALAR, VEC2, VEC3 or VEC4");
}

Result<std::string_view> buffer_bytes(const Spot& spot, std::string_view bytes) {
    STANDPOINT_TRY(size, needed_whole(spot, "byteLength"));
    const Spot at = member(spot, "byteLength");
    if (size == 0) return wrong(at, "0", "at least 1 byte");
    if (size > bytes.size())
        return wrong(at, std::to_string(size),
                     fmt::format("at most the {} bytes there are", bytes.size()));
    return bytes.substr(0, size);
}

} // namespace

std::size_t component_bytes(Component component) {
    if (component == Component::i8 || component == Component::u8) return 1;
    return component == Component::i16 || component == Component::u16 ? 2 : 4;
}

const char* component_name(Component component) {
    switch (component) {
    case Component::i8:
        return "BYTE";
    case Component::u8:
        return "UNSIGNED_BYTE";
    case Component::i16:
        return "SHORT";
    case Component::u16:
        return "UNSIGNED_SHORT";
    case Component::u32:
        return "UNSIGNED_INT";
    case Component::f32:
        return "FLOAT";
    }
    return "";
}

double Accessor::value(std::uint32_t i, int c) const {
    const char* at = element(*this, i);
    if (!at) return 0;
    const double raw =
        raw_value(component, at + static_cast<std::size_t>(c) * component_bytes(component));
    return normalised ? normalised_value(component, raw) : raw;
}

std::uint32_t Accessor::whole(std::uint32_t i) const {
    const char* at = element(*this, i);
    return at ? raw_whole(component, at) : 0;
}

Result<Buffers> Buffers::load(const File& file, const FileAccess& files) {
    Buffers out;
    out.file_ = &file;
    STANDPOINT_TRY(list, list_member(file.root(), "buffers"));
    std::size_t total = 0;
    for (std::size_t i = 0; i < length(list); ++i) {
        STANDPOINT_TRY(spot, object_item(list, i));
        STANDPOINT_TRY(uri, text_member(spot, "uri"));
        if (!uri && !(i == 0 && file.has_binary))
            return wrong(member(spot, "uri"), "nothing",
                         "a uri, or a .glb with a binary chunk for its first buffer");
        std::string_view bytes = file.binary;
        if (uri) {
            STANDPOINT_TRY(read, uri_bytes(member(spot, "uri"), *uri, files));
            out.owned_.push_back(std::make_shared<const std::string>(std::move(read)));
            bytes = *out.owned_.back();
        }
        total += bytes.size();
        if (total > most_neighbour_bytes)
            return wrong(list, fmt::format("{} bytes", total),
                         fmt::format("at most {} in all buffers", most_neighbour_bytes));
        STANDPOINT_TRY(used, buffer_bytes(spot, bytes));
        out.buffers_.push_back(used);
    }
    return out;
}

Result<Buffers::View> Buffers::view_of(std::uint32_t index) const {
    STANDPOINT_TRY(list, list_member(file_->root(), "bufferViews"));
    STANDPOINT_TRY(spot, object_item(list, index));
    STANDPOINT_TRY(buffers, list_member(file_->root(), "buffers"));
    STANDPOINT_TRY(buffer, index_member(spot, "buffer", buffers, "buffers"));
    if (!buffer) return wrong(member(spot, "buffer"), "nothing", "the index of a buffer");
    STANDPOINT_TRY(offset, whole_member(spot, "byteOffset", 0));
    STANDPOINT_TRY(size, needed_whole(spot, "byteLength"));
    const std::string_view bytes = buffers_[*buffer];
    if (size == 0) return wrong(member(spot, "byteLength"), "0", "at least 1 byte");
    // Both are at most 2^53, so that the sum does not overflow.
    if (offset + size > bytes.size())
        return wrong(spot, fmt::format("bytes {} to {}", offset, offset + size),
                     fmt::format("a range inside the buffer's {} bytes", bytes.size()));
    STANDPOINT_TRY(stride, whole_member(spot, "byteStride"));
    if (stride && (*stride < 4 || *stride > 252 || *stride % 4 != 0))
        return wrong(member(spot, "byteStride"), std::to_string(*stride),
                     "a multiple of 4 from 4 to 252");
    return View{bytes.substr(offset, size), static_cast<std::size_t>(offset),
                static_cast<std::size_t>(stride.value_or(0))};
}

Result<std::string_view> Buffers::view(std::uint32_t index) const {
    STANDPOINT_TRY(found, view_of(index));
    return found.bytes;
}

Result<const Accessor*> Buffers::open(std::uint32_t index) {
    const auto known = accessors_.find(index);
    if (known != accessors_.end()) return static_cast<const Accessor*>(&known->second);
    STANDPOINT_TRY(list, list_member(file_->root(), "accessors"));
    STANDPOINT_TRY(spot, object_item(list, index));
    STANDPOINT_TRY(accessor, checked(spot));
    return static_cast<const Accessor*>(&accessors_.emplace(index, accessor).first->second);
}

Result<Accessor> Buffers::checked(const Spot& spot) const {
    Accessor out;
    STANDPOINT_TRY(component, component_member(spot));
    out.component = component;
    STANDPOINT_TRY(width, width_member(spot));
    out.width = width;
    STANDPOINT_TRY(count, needed_whole(spot, "count"));
    if (count < 1 || count > 0xffffffffu)
        return wrong(member(spot, "count"), std::to_string(count), "1 to 4294967295");
    out.count = static_cast<std::uint32_t>(count);
    STANDPOINT_TRY(normalised, flag_member(spot, "normalized", false));
    out.normalised = normalised;
    if (normalised && (component == Component::f32 || component == Component::u32))
        return wrong(member(spot, "normalized"),
                     std::string("true for ") + component_name(component),
                     "it for integers of 8 or 16 bits only");
    STANDPOINT_TRY_STATUS(place(spot, out));
    STANDPOINT_TRY_STATUS(place_sparse(spot, out));
    return out;
}

Status Buffers::place(const Spot& spot, Accessor& out) const {
    STANDPOINT_TRY(views, list_member(file_->root(), "bufferViews"));
    STANDPOINT_TRY(index, index_member(spot, "bufferView", views, "bufferViews"));
    STANDPOINT_TRY(offset, whole_member(spot, "byteOffset", 0));
    if (!index) {
        if (offset != 0)
            return wrong(member(spot, "byteOffset"), std::to_string(offset),
                         "none without a bufferView");
        return Done{};
    }
    STANDPOINT_TRY(view, view_of(*index));
    const std::size_t size = component_bytes(out.component);
    const std::size_t whole = size * static_cast<std::size_t>(out.width);
    if (view.stride != 0 && view.stride < whole)
        return wrong(spot, fmt::format("elements of {} bytes", whole),
                     fmt::format("at most the byteStride of {}", view.stride));
    if (offset % size != 0 || view.offset % size != 0)
        return wrong(spot, fmt::format("byteOffset {} in a view at {}", offset, view.offset),
                     fmt::format("multiples of {} for {}", size, component_name(out.component)));
    out.stride = view.stride != 0 ? view.stride : whole;
    out.stride_given = view.stride != 0;
    out.byte_offset = static_cast<std::size_t>(offset);
    out.view_offset = view.offset;
    // At most 2^53 + 2^32 * 252 + 16: no overflow.
    const std::uint64_t end = offset + (std::uint64_t{out.count} - 1) * out.stride + whole;
    if (end > view.bytes.size())
        return wrong(spot, fmt::format("{} elements up to byte {}", out.count, end),
                     fmt::format("to end inside the view's {} bytes", view.bytes.size()));
    out.bytes = view.bytes.data() + offset;
    return Done{};
}

Status Buffers::place_sparse(const Spot& spot, Accessor& out) const {
    STANDPOINT_TRY(sparse, object_member(spot, "sparse"));
    if (!sparse) return Done{};
    STANDPOINT_TRY(count, needed_whole(sparse, "count"));
    if (count < 1 || count > out.count)
        return wrong(member(sparse, "count"), std::to_string(count),
                     fmt::format("1 to the accessor's {}", out.count));
    STANDPOINT_TRY(views, list_member(file_->root(), "bufferViews"));
    const auto bytes_of = [&](const char* key, std::size_t component,
                              std::size_t whole) -> Result<const char*> {
        STANDPOINT_TRY(part, object_member(sparse, key));
        STANDPOINT_TRY(index, index_member(part, "bufferView", views, "bufferViews"));
        if (!index) return wrong(member(part, "bufferView"), "nothing", "the index of a view");
        STANDPOINT_TRY(view, view_of(*index));
        STANDPOINT_TRY(offset, whole_member(part, "byteOffset", 0));
        if (view.stride != 0) return wrong(part, "a view with byteStride", "one without");
        if (offset % component != 0 || view.offset % component != 0)
            return wrong(part, fmt::format("byteOffset {} in a view at {}", offset, view.offset),
                         fmt::format("multiples of {}", component));
        if (offset + count * whole > view.bytes.size())
            return wrong(part,
                         fmt::format("{} elements up to byte {}", count, offset + count * whole),
                         fmt::format("to end inside the view's {} bytes", view.bytes.size()));
        return view.bytes.data() + offset;
    };
    STANDPOINT_TRY(indices, object_member(sparse, "indices"));
    STANDPOINT_TRY(type, component_member(indices));
    if (type != Component::u8 && type != Component::u16 && type != Component::u32)
        return wrong(member(indices, "componentType"), component_name(type), "an unsigned type");
    const std::size_t size = component_bytes(out.component);
    STANDPOINT_TRY(index_bytes, bytes_of("indices", component_bytes(type), component_bytes(type)));
    STANDPOINT_TRY(value_bytes,
                   bytes_of("values", size, size * static_cast<std::size_t>(out.width)));
    std::int64_t last = -1;
    for (std::size_t i = 0; i < count; ++i) {
        const std::int64_t index = raw_whole(type, index_bytes + i * component_bytes(type));
        if (index <= last || index >= std::int64_t{out.count})
            return wrong(indices, fmt::format("{} after {}", index, last),
                         fmt::format("rising indices below {}", out.count));
        last = index;
    }
    out.sparse_count = static_cast<std::uint32_t>(count);
    out.sparse_component = type;
    out.sparse_indices = index_bytes;
    out.sparse_values = value_bytes;
    return Done{};
}

} // namespace standpoint::gltf
