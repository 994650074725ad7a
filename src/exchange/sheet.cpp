#include "exchange/sheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "exchange/words.hpp"

namespace lampside::exchange {
namespace {

using Role = Column::Role;

struct Word {
  std::string_view word;
  Role role;
};
constexpr std::array kTitles{
    Word{"date", Role::day},          Word{"day", Role::day},      Word{"date/time", Role::day},
    Word{"date and time", Role::day}, Word{"when", Role::day},     Word{"age", Role::day},
    Word{"time", Role::time},         Word{"hour", Role::time},    Word{"pup", Role::pup},
    Word{"puppy", Role::pup},         Word{"label", Role::pup},    Word{"collar", Role::pup},
    Word{"pup name", Role::pup},      Word{"name", Role::pup},     Word{"weight", Role::weight},
    Word{"weights", Role::weight},    Word{"grams", Role::weight}, Word{"ounces", Role::weight},
    Word{"note", Role::note},         Word{"notes", Role::note},   Word{"remark", Role::note},
};
std::optional<Role> role_of(const std::string& title) {
  for (const Word& w : kTitles)
    if (w.word == title) return w.role;
  return std::nullopt;
}

struct UnitWord {
  std::string_view word;
  WeightUnit unit;
};
constexpr std::array kUnits{
    UnitWord{"g", WeightUnit::grams},       UnitWord{"gr", WeightUnit::grams},
    UnitWord{"gram", WeightUnit::grams},    UnitWord{"grams", WeightUnit::grams},
    UnitWord{"oz", WeightUnit::ounces},     UnitWord{"ounce", WeightUnit::ounces},
    UnitWord{"ounces", WeightUnit::ounces}, UnitWord{"lb", WeightUnit::pounds},
    UnitWord{"lbs", WeightUnit::pounds},    UnitWord{"pounds", WeightUnit::pounds},
    UnitWord{"kg", WeightUnit::kilograms},
};
std::optional<WeightUnit> unit_of(std::string_view word) {
  const std::string w = folded(word);
  for (const UnitWord& u : kUnits)
    if (u.word == w) return u.unit;
  return std::nullopt;
}

struct Title {
  std::string text;  ///< without the unit
  std::optional<WeightUnit> unit;
};
/// "Red (oz)", "Red [oz]", "Weight oz", "weight_g". A unit not in brackets counts in small letters only, and not
/// alone: "Pup G" and "G" are pups.
Title split_title(std::string_view title) {
  title = trimmed(title);
  if (title.ends_with(')') || title.ends_with(']')) {
    const auto open = title.find_last_of(title.back() == ')' ? '(' : '[');
    if (open != std::string_view::npos)
      if (const auto unit = unit_of(title.substr(open + 1, title.size() - open - 2)))
        return {std::string(trimmed(title.substr(0, open))), unit};
  }
  const auto space = title.find_last_of(" _");
  if (space == std::string_view::npos) return {std::string(title), std::nullopt};
  const std::string_view word = title.substr(space + 1);
  const auto unit = folded(word) == word ? unit_of(word) : std::nullopt;
  if (!unit) return {std::string(title), std::nullopt};
  return {std::string(trimmed(title.substr(0, space))), unit};
}

/// "Pup 3", "puppy 3" and "#3" are ways to write 3.
std::string_view bare_name(std::string_view name) {
  name = trimmed(name);
  const std::string small = folded(name);
  for (const std::string_view word : {"puppy ", "pup ", "#"})
    if (small.starts_with(word)) return trimmed(name.substr(word.size()));
  return name;
}

Problem heading_problem(const Table& table, std::string what, std::string todo) {
  return at_line(table.heading.line, {"CSV_HEADING", std::move(what), std::move(todo)});
}

constexpr std::string_view kShapes =
    "name the columns: either date (or day) and one column a pup, or date (or day), pup and weight";

}  // namespace

PupNames::PupNames(const record::Litter& litter) {
  for (const auto& p : litter.pups) {
    labels_[folded(p.label)].insert(p.label);
    if (!p.collar().empty()) labels_[folded(p.collar())].insert(p.label);
    known_ += (known_.empty() ? "" : ", ") + p.label;
    if (!p.collar().empty() && folded(p.collar()) != folded(p.label)) known_ += " (" + p.collar() + ")";
  }
  labels_["dam"].insert("dam");
  if (litter.facts.dam && litter.facts.dam->name) labels_[folded(*litter.facts.dam->name)].insert("dam");
}

Result<PupNames::Found> PupNames::find(std::string_view name) const {
  const std::string whole = folded(name);
  auto it = labels_.find(whole);
  if (it == labels_.end()) it = labels_.find(folded(bare_name(name)));
  if (it == labels_.end()) return Found{std::string(bare_name(name)), false};
  if (it->second.size() == 1) return Found{*it->second.begin(), true};
  std::string both;
  for (const auto& label : it->second) both += (both.empty() ? "" : " or ") + label;
  return problem("PUP_AMBIGUOUS", fmt::format("\"{}\" could be pup {}", name, both), "use the pups' labels");
}

Problem PupNames::unknown(std::string_view name) const {
  return {"PUP_UNKNOWN",
          fmt::format("there is no pup \"{}\"; {}", name,
                      known_.empty() ? "no pup is born yet" : "those born are " + known_),
          "correct the name, or say --born TIME to record the birth too"};
}

std::optional<std::size_t> Sheet::first(Role role) const {
  for (std::size_t i = 0; i < columns.size(); ++i)
    if (columns[i].role == role) return i;
  return std::nullopt;
}

bool names_pups(std::string_view title) { return role_of(folded(split_title(title).text)) == Role::pup; }

Result<Sheet> understand(const Table& table, const PupNames& names, const WeightsOptions& options) {
  const auto& cells = table.heading.cells;
  const std::array<DayCell, 1> corner{DayCell{table.heading.line, cells.front()}};
  if (DayReader::of_column(corner, DateOrder::day_month_year))
    return tl::unexpected(heading_problem(table, "the first line is a weighing, not a heading", std::string(kShapes)));

  Sheet sheet;
  for (const std::string& cell : cells) {
    auto [text, unit] = split_title(cell);
    sheet.columns.push_back({role_of(folded(text)).value_or(Role::passed_over), cell, {}, true, unit});
  }
  if (sheet.first(Role::pup) && !sheet.first(Role::weight))  // long, with the unit alone for a heading: "oz"
    for (Column& c : sheet.columns)
      if (const auto unit = unit_of(c.title); unit && c.role == Role::passed_over) c.role = Role::weight, c.unit = unit;
  sheet.wide = !(sheet.first(Role::pup) && sheet.first(Role::weight));
  if (!sheet.wide) {
    if (!sheet.first(Role::day))
      return tl::unexpected(heading_problem(table, "no column is called date or day", std::string(kShapes)));
    for (const Role role : {Role::day, Role::time, Role::pup, Role::weight})
      if (std::count_if(sheet.columns.begin(), sheet.columns.end(), [&](const Column& c) { return c.role == role; }) >
          1)
        return tl::unexpected(heading_problem(table, "two columns have the same meaning", std::string(kShapes)));
    return sheet;
  }

  // "date,weight": whose? A wide sheet has a name above each column of weights.
  if (cells.size() < 2) return tl::unexpected(heading_problem(table, "there is one column only", std::string(kShapes)));
  // Names read as days, or days as names, would give each pup another's weights.
  if (sheet.columns.front().role == Role::pup)
    return tl::unexpected(heading_problem(
        table,
        fmt::format("the first column is called \"{}\", and what stands beside it is not days alone", cells.front()),
        "with one row a pup leave only days beside the names; else call the column date or day"));
  sheet.columns.front().role = Role::day;
  std::map<std::string, std::string> title_of;
  for (std::size_t i = 1; i < cells.size(); ++i) {
    Column& column = sheet.columns[i];
    if (column.role == Role::time || column.role == Role::note) continue;
    auto named = names.find(column.title);  // the whole title first: a pup may be called "Day" or "Big g"
    if (named && named->known) column.unit.reset();
    if (named && !named->known && column.role != Role::passed_over)
      return tl::unexpected(
          heading_problem(table, fmt::format("whose is the column \"{}\"?", column.title), std::string(kShapes)));
    if (column.title.empty()) {
      const auto filled =
          std::find_if(table.rows.begin(), table.rows.end(), [i](const Row& r) { return !r.cells[i].empty(); });
      if (filled == table.rows.end()) continue;
      return tl::unexpected(
          heading_problem(table, fmt::format("column {} has weights but no name", i + 1), std::string(kShapes)));
    }
    if (named && !named->known) named = names.find(split_title(column.title).text);
    if (!named) return tl::unexpected(at_line(table.heading.line, named.error()));
    if (!named->known && !options.born) return tl::unexpected(at_line(table.heading.line, names.unknown(column.title)));
    column.role = Role::weight;
    column.pup = named->label;
    column.known = named->known;
    if (const auto [other, fresh] = title_of.emplace(folded(named->label), column.title); !fresh)
      return tl::unexpected(heading_problem(
          table, fmt::format("the columns \"{}\" and \"{}\" are the same pup", other->second, column.title),
          "leave one of them out"));
  }
  if (!sheet.first(Role::weight))
    return tl::unexpected(heading_problem(table, "no column holds weights", std::string(kShapes)));
  return sheet;
}

}  // namespace lampside::exchange
