// How many bytes the blocks of a document take.
#include "scene/memory.h"

#include "scene/fields.h"

namespace standpoint {

namespace {

// What make_shared keeps beside the value: two counters and a table pointer.
constexpr std::size_t shared_overhead = 2 * sizeof(void*);
// What an allocator keeps beside a block, on common systems.
constexpr std::size_t block_overhead = sizeof(void*);

std::size_t owned(const std::string& text) {
    static const std::size_t within = std::string().capacity();
    return text.capacity() > within ? text.capacity() + 1 + block_overhead : 0;
}

// Bytes a value owns outside itself.
template <class T> std::size_t owned(const T& value);

template <class Owner, class Member>
std::size_t owned_by(const Owner& owner, const Field<Owner, Member>& field) {
    return owned(owner.*field.member);
}
template <class Owner> std::size_t owned_by(const Owner&, const VersionField&) {
    return 0;
}
template <class Owner> std::size_t owned_by(const Owner& owner, const SupportField&) {
    return owned(owner.host);
}
template <class Owner, class Variant>
std::size_t owned_by(const Owner& owner, const OneOf<Owner, Variant>& field) {
    return std::visit([](const auto& one) { return owned(one); }, owner.*field.member);
}
template <class Owner> std::size_t owned_by(const Owner& line, const BetweenField&) {
    return owned(line.between_a) + owned(line.between_b);
}

template <class T> std::size_t owned(const T& value) {
    std::size_t bytes = 0;
    if constexpr (Remembers<T>) {
        bytes = owned(value.as_read);
    } else if constexpr (IsVector<T>::value) {
        if (value.capacity() > 0)
            bytes = value.capacity() * sizeof(typename T::value_type) + block_overhead;
        for (const auto& item : value)
            bytes += owned(item);
    } else if constexpr (IsOptional<T>::value) {
        bytes = value ? owned(*value) : 0;
    } else if constexpr (std::is_same_v<T, PlanPoint>) {
        bytes = owned(value.x) + owned(value.y);
    } else if constexpr (std::is_same_v<T, Point3>) {
        bytes = owned(value.x) + owned(value.y) + owned(value.z);
    } else if constexpr (Described<T>) {
        each_field<T>([&](const auto& field) {
            bytes += owned_by(value, field);
            return true;
        });
    } // numbers, enums and pointers to blocks counted elsewhere own nothing
    return bytes;
}

template <class T>
void visit_block(const std::shared_ptr<const T>& block, const BlockVisit& visit) {
    visit({block.get(),
           [&block] { return sizeof(T) + shared_overhead + block_overhead + owned(*block); }});
}

} // namespace

void each_block(const Document& document, const BlockVisit& visit) {
    visit_block(document.settings, visit);
    visit_block(document.hall, visit);
    visit_block(document.sections, visit);
    visit_block(document.join_lines, visit);
    visit_block(document.reference_points, visit);
    visit_block(document.path, visit);
    visit_block(document.visitors, visit);
    visit_block(document.rules, visit);
    visit_block(document.pieces, visit);
    for (const auto& piece : *document.pieces)
        visit_block(piece, visit);
    visit_block(document.targets, visit);
    for (const auto& target : *document.targets)
        visit_block(target, visit);
}

} // namespace standpoint
