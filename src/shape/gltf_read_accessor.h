// Buffers, views and accessors of a glTF file, checked when they are opened; elements are read one
// by one straight from the bytes, so that no count in a file makes memory grow.
#pragma once

#include <map>
#include <memory>
#include <string>
#include <vector>

#include "shape/gltf_read_file.h"

namespace standpoint::gltf {

enum class Component : std::uint16_t { i8 = 5120, u8, i16, u16, u32 = 5125, f32 };

// An accessor whose every element may be read. Without bytes its elements are zeros.
struct Accessor {
    std::uint32_t count = 0;
    int width = 1; // components an element
    Component component = Component::f32;
    bool normalised = false;
    const char* bytes = nullptr;
    std::size_t stride = 0;
    std::size_t byte_offset = 0; // in its view, and of its view: for rules of alignment
    std::size_t view_offset = 0;
    bool stride_given = false;
    std::uint32_t sparse_count = 0; // strictly increasing indices, each with its own element
    Component sparse_component = Component::u32;
    const char* sparse_indices = nullptr;
    const char* sparse_values = nullptr;

    // Component `c` of element `i`, an integer mapped to -1..1 or 0..1 when normalised.
    double value(std::uint32_t i, int c) const;
    std::uint32_t whole(std::uint32_t i) const; // unsigned components only
};

std::size_t component_bytes(Component component);
const char* component_name(Component component); // "UNSIGNED_SHORT"

class Buffers {
  public:
    // Reads every buffer. `file` and the result of open() live as long as this.
    static Result<Buffers> load(const File& file, const FileAccess& files);

    Result<const Accessor*> open(std::uint32_t index);
    // The bytes of a view, for an image.
    Result<std::string_view> view(std::uint32_t index) const;

  private:
    struct View {
        std::string_view bytes;
        std::size_t offset = 0;
        std::size_t stride = 0; // 0: none given
    };
    const File* file_ = nullptr;
    std::vector<std::shared_ptr<const std::string>> owned_; // null: the binary chunk
    std::vector<std::string_view> buffers_;
    std::map<std::uint32_t, Accessor> accessors_;

    Result<View> view_of(std::uint32_t index) const;
    Result<Accessor> checked(const Spot& spot) const;
    Status place(const Spot& spot, Accessor& out) const;
    Status place_sparse(const Spot& spot, Accessor& out) const;
};

} // namespace standpoint::gltf
