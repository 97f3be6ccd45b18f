// The document: the starting one, looking things up, comparing.
#include "scene/document.h"

#include <algorithm>
#include <string_view>
#include <unordered_map>

#include "base/check.h"

namespace standpoint {

namespace {

template <class T> bool same(const std::shared_ptr<const T>& a, const std::shared_ptr<const T>& b) {
    return a == b || *a == *b;
}

template <class T>
bool same_list(const std::shared_ptr<const std::vector<std::shared_ptr<const T>>>& a,
               const std::shared_ptr<const std::vector<std::shared_ptr<const T>>>& b) {
    return a == b || std::equal(a->begin(), a->end(), b->begin(), b->end(), same<T>);
}

template <class Items> auto find_in(const Items& items, std::string_view id) {
    const auto at =
        std::find_if(items.begin(), items.end(), [&](const auto& item) { return item.id == id; });
    return at == items.end() ? nullptr : &*at;
}

template <class T>
const T* find_shared(const std::vector<std::shared_ptr<const T>>& items, std::string_view id) {
    const auto at =
        std::find_if(items.begin(), items.end(), [&](const auto& item) { return item->id == id; });
    return at == items.end() ? nullptr : at->get();
}

PlanPoint plan(double x, double y) {
    return {x, y};
}

} // namespace

Document empty_document() {
    Settings settings;
    settings.setting_ratio = settings.figure_ratio = Ratio(12);
    Hall hall;
    hall.outline = {plan(-3500, -4000), plan(6500, -4000), plan(6500, 4000), plan(-3500, 4000)};
    hall.ceiling = 3000;
    const Section section{"section-a", "A", plan(0, 0), 3000, 1800, 150};
    const Path path{{plan(-2000, -1500), plan(5000, -1500)}, 2000};

    Document document;
    document.settings = std::make_shared<const Settings>(settings);
    document.hall = std::make_shared<const Hall>(hall);
    document.sections = std::make_shared<const std::vector<Section>>(1, section);
    document.join_lines = std::make_shared<const std::vector<JoinLine>>();
    document.reference_points = std::make_shared<const std::vector<ReferencePoint>>();
    document.path = std::make_shared<const Path>(path);
    document.visitors = std::make_shared<const std::vector<Visitor>>();
    document.rules = std::make_shared<const RuleChoice>();
    document.pieces = std::make_shared<const std::vector<std::shared_ptr<const Piece>>>();
    document.targets = std::make_shared<const std::vector<std::shared_ptr<const Target>>>();
    return document;
}

bool same_content(const Document& a, const Document& b) {
    return same(a.settings, b.settings) && same(a.hall, b.hall) && same(a.sections, b.sections) &&
           same(a.join_lines, b.join_lines) && same(a.reference_points, b.reference_points) &&
           same(a.path, b.path) && same(a.visitors, b.visitors) && same(a.rules, b.rules) &&
           same_list(a.pieces, b.pieces) && same_list(a.targets, b.targets);
}

double ratio_of(const Document& document, const Piece& piece) {
    if (piece.ratio) return piece.ratio->value;
    switch (piece.kind) {
    case PieceKind::figure:
        return document.settings->figure_ratio.value;
    case PieceKind::barrier:
    case PieceKind::lamp:
    case PieceKind::effect:
        return 1;
    case PieceKind::prop:
    case PieceKind::setting:
    case PieceKind::ground:
        break;
    }
    return document.settings->setting_ratio.value;
}

const Piece* find_piece(const Document& document, std::string_view id) {
    return find_shared(*document.pieces, id);
}

const Section* find_section(const Document& document, std::string_view id) {
    return find_in(*document.sections, id);
}

const Visitor* find_visitor(const Document& document, std::string_view id) {
    return find_in(*document.visitors, id);
}

const Target* find_target(const Document& document, std::string_view id) {
    return find_shared(*document.targets, id);
}

std::vector<std::ptrdiff_t> host_indices(const Document& document) {
    const auto& pieces = *document.pieces;
    std::unordered_map<std::string_view, std::ptrdiff_t> index;
    for (std::size_t i = 0; i < pieces.size(); ++i)
        index.emplace(pieces[i]->id, static_cast<std::ptrdiff_t>(i));
    std::vector<std::ptrdiff_t> hosts(pieces.size(), -1);
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        const Support support = pieces[i]->support;
        if (support != Support::stands_on && support != Support::hangs_from) continue;
        const auto host = index.find(pieces[i]->host);
        if (host != index.end()) hosts[i] = host->second;
    }
    return hosts;
}

std::vector<std::string> sections_of(const Document& document) {
    const auto& pieces = *document.pieces;
    const std::vector<std::ptrdiff_t> hosts = host_indices(document);
    std::vector<std::string> sections(pieces.size());
    std::vector<bool> known(pieces.size(), false);
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        std::vector<std::size_t> climb{i};
        while (!known[climb.back()] && hosts[climb.back()] >= 0)
            climb.push_back(static_cast<std::size_t>(hosts[climb.back()]));
        const Piece& root = *pieces[climb.back()];
        if (!known[climb.back()] && root.support == Support::section)
            sections[climb.back()] = root.host;
        for (const std::size_t one : climb) {
            sections[one] = sections[climb.back()];
            known[one] = true;
        }
    }
    return sections;
}

std::string section_of(const Document& document, const Piece& piece) {
    const Piece* root = &piece;
    for (std::size_t climbed = 0; climbed <= document.pieces->size(); ++climbed) {
        if (root->support == Support::section) return root->host;
        if (root->support == Support::none) return {};
        root = find_piece(document, root->host);
        STANDPOINT_CHECK(root != nullptr);
    }
    return {};
}

} // namespace standpoint
