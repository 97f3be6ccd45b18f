// Check results as lines to read: the gravest first, then what they mean and what they are not.
#include <fmt/format.h>

#include "check/run.h"

namespace standpoint {

namespace {

constexpr const char* grade_heads[] = {"Fails", "Warnings", "Notes"};

std::string counted(std::size_t count, const char* one, const char* many) {
    return fmt::format("{} {}", count, count == 1 ? one : many);
}

std::string measured_text(const Document& document, double value, const std::string& unit) {
    if (unit == "mm") return length_text(document, value);
    if (unit == "share") return share_text(value);
    if (unit == "deg") return fmt::format("{:.1f} degrees", value);
    return fmt::format("{:.2f} {}", value, unit);
}

// "found 650 mm, limit 914 mm; 2010 ADA Standards for Accessible Design, 403.5.1".
std::string numbers_text(const Document& document, const Finding& f) {
    std::string text;
    if (f.measured && f.required)
        text = fmt::format("found {}, limit {}", measured_text(document, *f.measured, f.unit),
                           measured_text(document, *f.required, f.unit));
    if (!f.source.empty()) text += (text.empty() ? "" : "; ") + f.source;
    if (!f.rule.empty()) text += fmt::format(" [{}]", f.rule);
    return text;
}

std::string where_text(const Document& document, const Finding& f) {
    std::string text;
    if (f.distance) text = fmt::format("at {} along the path", length_text(document, *f.distance));
    if (f.place)
        text += fmt::format("{}place X {}, Y {}, Z {}", text.empty() ? "" : "; ",
                            length_text(document, f.place->x), length_text(document, f.place->y),
                            length_text(document, f.place->z));
    if (f.pieces.empty()) return text;
    text += text.empty() ? "pieces: " : "; pieces: ";
    for (std::size_t i = 0; i < f.pieces.size(); ++i)
        text += (i == 0 ? "" : ", ") + f.pieces[i];
    return text;
}

std::string finding_text(const Document& document, const Finding& f) {
    std::string text = "  " + f.message + ".\n";
    for (const std::string& line : {numbers_text(document, f), where_text(document, f)})
        if (!line.empty()) text += "      " + line + "\n";
    return text;
}

std::size_t count_of(const std::vector<Finding>& findings, Grade grade) {
    std::size_t count = 0;
    for (const Finding& finding : findings)
        if (finding.grade == grade) ++count;
    return count;
}

std::string counts_text(const CheckResults& results) {
    return counted(count_of(results.findings, Grade::fail), "fail", "fails") + ", " +
           counted(count_of(results.findings, Grade::warn), "warning", "warnings") + ", " +
           counted(count_of(results.findings, Grade::note), "note", "notes");
}

// One grade: its findings under the name of their check.
std::string grade_text(const Document& document, const std::vector<Finding>& findings,
                       Grade grade) {
    if (count_of(findings, grade) == 0) return "";
    std::string text = fmt::format("\n{}\n", grade_heads[static_cast<int>(grade)]);
    std::string check;
    for (const Finding& f : findings) {
        if (f.grade != grade) continue;
        if (f.check != check) text += fmt::format(" {}\n", f.check);
        check = f.check;
        text += finding_text(document, f);
    }
    return text;
}

// What was looked at, so that a clean result says what it is clean of.
std::string looked_at_text(const Document& document, const CheckResults& results) {
    std::string text =
        fmt::format("\nLooked at: {} by {} from {} and {} lanes each, {} sight lines.\n",
                    counted(document.targets->size(), "target", "targets"),
                    counted(document.visitors->size(), "visitor", "visitors"),
                    counted(results.sightlines.stations.size(), "station", "stations"), lane_count,
                    results.sightlines.rays);
    if (!results.walkway.widths.empty())
        text += fmt::format("The path is {} wide at its narrowest.\n",
                            length_text(document, results.walkway.width));
    return text;
}

} // namespace

std::string results_text(const Staging& staging, const CheckResults& results) {
    const Document& document = staging.document;
    const std::string& title = document.settings->title;
    std::string text =
        fmt::format("{}: {}\n", title.empty() ? "The scene" : title, counts_text(results));
    for (const Grade grade : {Grade::fail, Grade::warn, Grade::note})
        text += grade_text(document, results.findings, grade);
    text += looked_at_text(document, results);
    text += "\nCautions\n";
    for (const std::string& caution : cautions())
        text += "  " + caution + "\n";
    return text;
}

} // namespace standpoint
