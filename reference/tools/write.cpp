// Writes what the tables say: the C++ rows for src/reference, and the page about every finding.
#include "table.hpp"

#include <map>

namespace lampside::tabulate {

namespace {

std::string standing_says(const std::string& standing) {
  if (standing == "secondary") return "read in another work that quotes it";
  if (standing == "common_practice") return "common practice, no source";
  if (standing == "from_memory") return "from memory, not verified";
  return "published";
}

std::string cited(const Source& s) { return s.work + "; " + s.locator + " (" + standing_says(s.standing) + ")"; }

std::string acts_says(const std::string& acts) {
  if (acts == "above") return "above";
  if (acts == "below") return "below";
  return acts == "at_or_below" ? "at or below" : "at or above";
}

std::string level_says(const std::string& level) { return level == "call_vet" ? "call the vet" : level; }

/// By heading and code.
using Remarks = std::map<std::string_view, std::map<std::string_view, std::vector<const Remark*>>>;

void write_code(std::string& out, const Rule* first, const Rule* end, const Remarks& remarks) {
  out += "## " + first->code + "\n\n**Meaning.** " + first->measures + "\n\n";
  for (const Rule* r = first; r != end; ++r) {
    out +=
        "**" + level_says(r->level) + "**, " + acts_says(r->acts) + " " + r->limit_says + ": " + r->headline + "\n\n";
    out += "- Vet's words: " + r->professional + "\n- Why: " + r->why + "\n- Do: " + r->do_now + "\n";
    if (!r->do_not.empty()) out += "- Do not: " + r->do_not + "\n";
    out += "- Source: " + cited(r->source) + "\n\n";
  }
  for (const auto& [heading, by_code] : remarks) {
    const auto here = by_code.find(first->code);
    if (here == by_code.end()) continue;
    out += std::string(heading) + "\n\n";
    for (const auto* r : here->second) out += "- " + r->says + " " + cited(r->source) + "\n";
    out += "\n";
  }
  out += "Since version " + first->since + ".\n\n";
}

}  // namespace

std::string to_cpp(const std::vector<Table>& tables) {
  std::string out = "// Made from reference/*.toml by reference/tools. Do not edit: change the table.\n";
  std::string reference;
  for (const auto& type : row_types()) {  // Reference's own order
    std::string rows;
    for (const auto& table : tables)
      if (table.type == &type)
        for (const auto& row : table.rows) rows += "    " + row + ",\n";
    if (rows.empty()) continue;
    out += "\nconstexpr " + std::string(type.name) + " k_" + std::string(type.array) + "[] = {\n" + rows + "};\n";
    reference += "    ." + std::string(type.array) + " = k_" + std::string(type.array) + ",\n";
  }
  return out + "\nconstexpr Reference kBuiltIn{\n" + reference + "};\n";
}

std::string to_page(const std::vector<Table>& tables) {
  Remarks remarks;
  for (const auto& table : tables)
    for (const auto& r : table.remarks)
      remarks[table.type->name == "Dissent" ? "Other sources say:" : "What waiting costs:"][r.code].push_back(&r);
  std::string out =
      "# Findings\n\nMade from the rule rows in `reference/*.toml`; change those, not this page.\n"
      "A code never changes its meaning and is never used again for another.\n"
      "Your vet's word and your law come before anything written here.\n\n"
      "Levels, worst first: emergency (go or ring now), call the vet (ring now), act (do it yourself, now), watch "
      "(look\n"
      "again soon), note (good to know).\n\n";
  for (const auto& type : row_types())
    for (const auto& table : tables) {
      if (table.type != &type) continue;
      const Rule* const end = table.rules.data() + table.rules.size();
      for (const Rule* first = table.rules.data(); first != end;) {
        const Rule* next = first;
        while (next != end && next->code == first->code) ++next;
        write_code(out, first, next, remarks);
        first = next;
      }
    }
  out.pop_back();
  return out;
}

}  // namespace lampside::tabulate
