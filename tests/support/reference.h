// Rows of outside values from tests/reference, looked up by id. A missing file, a malformed line
// or an unknown id ends the test with an exception that says which.
#pragma once

#include <fstream>
#include <iterator>
#include <map>
#include <stdexcept>
#include <string>
#include <vector>

namespace standpoint::support {

struct ReferenceRow {
    std::string id, quantity;
    double value = 0; // 0 for rows of words or formulas, whose text is in value_text
    std::string value_text, unit;
    double value_si = 0; // m, kg, N, Pa, rad, s, lx
    std::string unit_si, applies_to, source, evidence, note;
};

// RFC 4180: quotes around cells that hold commas, quotes or line ends, a quote doubled inside.
inline std::vector<std::vector<std::string>> parse_csv(const std::string& text) {
    std::vector<std::vector<std::string>> records;
    std::vector<std::string> cells;
    std::string cell;
    bool inside = false;
    bool any = false; // something of this record was read
    const auto end_record = [&] {
        if (!any) return;
        cells.push_back(cell);
        records.push_back(cells);
        cells.clear();
        cell.clear();
        any = false;
    };
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        if (inside) {
            if (c != '"')
                cell += c;
            else if (i + 1 < text.size() && text[i + 1] == '"')
                cell += text[++i];
            else
                inside = false;
        } else if (c == '"') {
            inside = any = true;
        } else if (c == ',') {
            cells.push_back(cell);
            cell.clear();
            any = true;
        } else if (c == '\n' || c == '\r') {
            end_record();
        } else {
            cell += c;
            any = true;
        }
    }
    if (inside) throw std::runtime_error("a quoted cell is not closed");
    end_record();
    return records;
}

class Reference {
  public:
    // `name` without folder and ending: "setting_out".
    explicit Reference(const std::string& name) : name_(name) {
        const std::string path =
            std::string(STANDPOINT_SOURCE_DIR) + "/tests/reference/" + name + ".csv";
        std::ifstream file(path, std::ios::binary);
        if (!file) throw std::runtime_error("no reference file " + path);
        const std::string text{std::istreambuf_iterator<char>(file), {}};
        const auto records = parse_csv(text);
        if (records.empty() || records[0] != header())
            throw std::runtime_error("the first line is not the header, in " + path);
        for (std::size_t i = 1; i < records.size(); ++i)
            add(records[i], path);
    }

    const ReferenceRow& row(const std::string& id) const {
        const auto found = rows_.find(id);
        if (found == rows_.end()) throw std::runtime_error("no row " + id + " in " + name_);
        return found->second;
    }

    // All rows in order of id.
    const std::map<std::string, ReferenceRow>& rows() const { return rows_; }

  private:
    static const std::vector<std::string>& header() {
        static const std::vector<std::string> names = {
            "id",      "quantity",   "value",  "unit",     "value_si",
            "unit_si", "applies_to", "source", "evidence", "note"};
        return names;
    }

    void add(const std::vector<std::string>& cells, const std::string& path) {
        if (cells.size() != header().size())
            throw std::runtime_error("a row has not ten cells: " + cells[0] + " in " + path);
        ReferenceRow row{cells[0], cells[1], number(cells[2]), cells[2], cells[3], number(cells[4]),
                         cells[5], cells[6], cells[7],         cells[8], cells[9]};
        if (row.source.empty())
            throw std::runtime_error("a row has no source: " + cells[0] + " in " + path);
        if (!rows_.emplace(row.id, row).second)
            throw std::runtime_error("two rows have the id " + cells[0] + " in " + path);
    }

    static double number(const std::string& text) {
        std::size_t used = 0;
        try {
            const double value = std::stod(text, &used);
            return used == text.size() ? value : 0;
        } catch (const std::exception&) {
            return 0; // words or a formula
        }
    }

    std::string name_;
    std::map<std::string, ReferenceRow> rows_;
};

} // namespace standpoint::support
