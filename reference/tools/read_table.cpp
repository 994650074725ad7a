// Reads one TOML table and refuses whatever a keeper could be misled by: a row without a source first of all.
#define TOML_ENABLE_FORMATTERS 0
#include "table.hpp"

#include <toml++/toml.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <map>
#include <set>
#include <utility>

namespace lampside::tabulate {

namespace {

constexpr std::array<std::string_view, 5> kLevels{"emergency", "call_vet", "act", "watch", "note"};
constexpr std::array<std::string_view, 4> kStandings{"published", "secondary", "common_practice", "from_memory"};
constexpr std::array<std::string_view, 4> kActs{"at_or_above", "above", "at_or_below", "below"};
constexpr std::array<std::string_view, 5> kWords{"headline", "professional", "why", "do_now", "do_not"};

template <std::size_t N>
bool among(const std::array<std::string_view, N>& words, std::string_view word) {
  return std::find(words.begin(), words.end(), word) != words.end();
}
template <std::size_t N>
std::string listed(const std::array<std::string_view, N>& words) {
  std::string out;
  for (const auto word : words) out += (out.empty() ? "" : ", ") + std::string(word);
  return out;
}

std::string digits(double value) {
  std::array<char, 32> buffer{};
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value).ptr;
  return {buffer.data(), end};
}

std::string quoted(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') out += '\\';
    out += c;
  }
  return out + '"';
}

bool blank(std::string_view text) { return text.find_first_not_of(" \t") == std::string_view::npos; }

/// Fahrenheit stays as printed in the source: converted by the same function as a keeper's reading, 100 °F is 100 °F.
std::string fahrenheit_key(std::string_view celsius_key) {
  return std::string(celsius_key.substr(0, celsius_key.size() - 1)) + "f";
}

class Reader {
 public:
  Reader(std::string file, std::vector<Fault>& faults) : faults_{faults} { table_.file = std::move(file); }

  Table read() {
    toml::table document;
    try {
      document = toml::parse_file(table_.file);
    } catch (const toml::parse_error& error) {
      fault(error.source().begin.line, std::string(error.description()));
      return table_;
    }
    head(document);
    if (!table_.type) return table_;
    const auto* rows = document["row"].as_array();
    if (!rows || rows->empty()) {
      fault(1, "no [[row]] in this table");
      return table_;
    }
    for (const auto& node : *rows) {
      if (const auto* row = node.as_table())
        read_row(*row);
      else
        fault(line_of(node), "row must be written as [[row]]");
    }
    if (table_.type->is_rule) check_rules();
    return table_;
  }

 private:
  static std::uint32_t line_of(const toml::node& node) { return node.source().begin.line; }
  void fault(std::uint32_t line, std::string message) {
    faults_.push_back({table_.file, std::max<std::uint32_t>(line, 1), std::move(message)});
  }

  void head(const toml::table& document) {
    const auto name = document["row_type"].value_or(std::string_view{});
    const auto array = document["array"].value_or(std::string_view{});
    for (const auto& [key, node] : document)
      if (key != "row_type" && key != "array" && key != "row")
        fault(line_of(node), "unknown key '" + std::string(key.str()) + "'");
    const auto& types = row_types();
    const auto type = std::find_if(types.begin(), types.end(), [&](const RowType& t) { return t.name == name; });
    if (type == types.end())
      fault(1, "row_type '" + std::string(name) + "' is not known");
    else if (type->array != array)
      fault(1, "array must be '" + std::string(type->array) + "' for row_type '" + std::string(name) + "'");
    else
      table_.type = &*type;
  }

  /// A text under `key`; a fault and an empty text when it is missing, not a text, or blank.
  std::string text(const toml::table& row, std::string_view key, std::uint32_t line, std::string_view owner = "") {
    const std::string shown = std::string(owner) + std::string(key);
    const auto* node = row.get(key);
    if (!node) {
      fault(line, shown + " is missing");
      return {};
    }
    const auto value = node->value<std::string>();
    if (!node->is_string() || !value) fault(line_of(*node), shown + " must be a text");
    if (value && blank(*value)) fault(line_of(*node), shown + " is empty");
    if (value && std::any_of(value->begin(), value->end(), [](char c) { return c >= 0 && c < ' '; }))
      fault(line_of(*node), shown + " has a line break or control character");
    return value.value_or("");
  }

  double number(const toml::node& node, std::string_view key) {
    const auto value = node.value<double>();
    if (!node.is_number() || !value || !std::isfinite(*value)) {
      fault(line_of(node), std::string(key) + " must be a number");
      return 0;
    }
    return *value;
  }

  Source source(const toml::table& row, std::uint32_t row_line) {
    const auto* node = row.get("source");
    const auto* from = node ? node->as_table() : nullptr;
    if (!from) {
      fault(row_line, "source is missing: a row needs source = { work, locator, standing }");
      return {};
    }
    const auto line = line_of(*node);
    for (const auto& [key, value] : *from)
      if (key != "work" && key != "locator" && key != "standing")
        fault(line_of(value), "unknown key 'source." + std::string(key.str()) + "'");
    Source out{text(*from, "work", line, "source."), text(*from, "locator", line, "source."),
               text(*from, "standing", line, "source.")};
    if (!out.standing.empty() && !among(kStandings, out.standing))
      fault(line, "standing '" + out.standing + "' is not known; use one of " + listed(kStandings));
    return out;
  }

  static std::string to_cpp(const Source& s) {
    return "{.work = " + quoted(s.work) + ", .locator = " + quoted(s.locator) +
           ", .standing = Standing::" + s.standing + "}";
  }

  /// What a row leaves out of its words it takes from the row above of the same code; never the headline or what
  /// to do, which change with the level.
  void words(const toml::table& row, std::uint32_t row_line, Rule& rule) {
    const auto* node = row.get("words");
    const auto* said = node ? node->as_table() : nullptr;
    if (!said) {
      fault(row_line, "words are missing");
      return;
    }
    for (const auto& [key, value] : *said)
      if (!among(kWords, key.str())) fault(line_of(value), "unknown key 'words." + std::string(key.str()) + "'");
    const Rule* above = !table_.rules.empty() && table_.rules.back().code == rule.code ? &table_.rules.back() : nullptr;
    const auto inherited = [&](std::string_view key, std::string Rule::* member) {
      if (!said->contains(key) && above) return above->*member;
      return text(*said, key, row_line, "words.");
    };
    rule.headline = text(*said, "headline", row_line, "words.");
    if (rule.headline.size() > 70) fault(row_line, "words.headline is longer than 70 bytes");
    rule.do_now = text(*said, "do_now", row_line, "words.");
    rule.professional = inherited("professional", &Rule::professional);
    rule.why = inherited("why", &Rule::why);
    if (said->contains("do_not"))
      rule.do_not = (*said)["do_not"].value_or(std::string{});
    else if (above)
      rule.do_not = above->do_not;
    else
      fault(row_line, "words.do_not is missing (it may be empty)");
  }

  static std::string to_cpp(const Rule& r) {
    return "{.headline = " + quoted(r.headline) + ", .professional = " + quoted(r.professional) +
           ", .why = " + quoted(r.why) + ", .do_now = " + quoted(r.do_now) + ", .do_not = " + quoted(r.do_not) + "}";
  }

  std::string quantity(std::string_view unit, double value) { return std::string(unit) + "{" + digits(value) + "}"; }

  /// The C++ value of one field, and for a rule's limit how to say it.
  std::string value(const toml::table& row, const Field& field, std::uint32_t row_line, Rule& rule) {
    const auto* node = row.get(field.key);
    const auto limit = [&](std::string_view unit, double v) {
      if (field.member != "limit") return;
      rule.limit = v;
      rule.limit_says = digits(v) + std::string(unit);
    };
    if (field.kind == Kind::celsius) {
      const auto* other = row.get(fahrenheit_key(field.key));
      if (node && other)
        fault(line_of(*other), "give " + std::string(field.key) + " or " + fahrenheit_key(field.key) + ", not both");
      if (!node && other) {
        const double f = number(*other, fahrenheit_key(field.key));
        const double c = std::round((f - 32.0) * 50.0 / 9.0) / 10.0;
        limit("", (f - 32.0) * 5.0 / 9.0);
        rule.limit_says = digits(c) + " °C (" + digits(f) + " °F)";
        return "from_fahrenheit(" + digits(f) + ")";
      }
    }
    if (field.kind == Kind::acts) {
      if (node) {
        rule.acts = text(row, field.key, row_line);
        if (!among(kActs, rule.acts))
          fault(line_of(*node), "acts '" + rule.acts + "' is not known; use one of " + listed(kActs));
      } else if (table_.type->name == "SpanRule" || table_.type->name == "CountRule") {
        rule.acts = "at_or_above";
      } else {
        fault(row_line, "acts is missing: on which side of the limit does the rule act?");
      }
      return "Side::" + rule.acts;
    }
    if (field.kind == Kind::words) {
      words(row, row_line, rule);
      return to_cpp(rule);
    }
    if (field.kind == Kind::source) {
      rule.source = source(row, row_line);
      return to_cpp(rule.source);
    }
    if (!node) {
      if (field.kind == Kind::text_or_none) return "\"\"";
      if (field.kind == Kind::number_or_zero) return "0";
      if (!field.otherwise.empty()) return std::string(field.otherwise);
      fault(row_line, std::string(field.key) + " is missing");
      return {};
    }
    switch (field.kind) {
      case Kind::text:
      case Kind::text_or_none:
        return quoted(text(row, field.key, row_line));
      case Kind::maybe_text: {
        if (!node->is_string()) fault(line_of(*node), std::string(field.key) + " must be a text");
        return quoted(node->value_or(std::string_view{}));
      }
      case Kind::flag: {
        if (!node->is_boolean()) fault(line_of(*node), std::string(field.key) + " must be true or false");
        return node->value_or(false) ? "true" : "false";
      }
      case Kind::level: {
        rule.level = text(row, field.key, row_line);
        if (!among(kLevels, rule.level))
          fault(line_of(*node), "level '" + rule.level + "' is not known; use one of " + listed(kLevels));
        return "Level::" + rule.level;
      }
      default:
        break;
    }
    const double v = number(*node, field.key);
    if ((field.kind == Kind::whole || field.kind == Kind::minutes) && v != std::floor(v))
      fault(line_of(*node), std::string(field.key) + " must be a whole number");
    switch (field.kind) {
      case Kind::minutes:
        limit(" min", v);
        return quantity("Minutes", v);
      case Kind::hours:
        limit(" h", v);
        return quantity("Hours", v);
      case Kind::days:
        limit(" d", v);
        return quantity("Days", v);
      case Kind::grams:
        limit(" g", v);
        return quantity("Grams", v);
      case Kind::milligrams:
        limit(" mg", v);
        return quantity("Milligrams", v);
      case Kind::millilitres:
        limit(" ml", v);
        return quantity("Millilitres", v);
      case Kind::kcal_100g:
        limit(" kcal/100 g", v);
        return quantity("KcalPer100g", v);
      case Kind::celsius:
        limit(" °C", v);
        return quantity("Celsius", v);
      case Kind::percent:
        limit(" %", v);
        return quantity("Percent", v);
      default:
        limit("", v);
        return digits(v);
    }
  }

  void read_row(const toml::table& row) {
    const auto line = line_of(row);
    std::set<std::string> known;
    for (const auto& field : table_.type->fields) {
      known.emplace(field.key);
      if (field.kind == Kind::celsius) known.insert(fahrenheit_key(field.key));
    }
    if (table_.type->is_rule) known.insert({"measures", "since"});
    for (const auto& [key, node] : row)
      if (!known.count(std::string(key.str()))) fault(line_of(node), "unknown key '" + std::string(key.str()) + "'");

    Rule rule;
    rule.line = line;
    rule.code = row["code"].value_or(std::string{});
    std::string cpp = "{";
    for (const auto& field : table_.type->fields)
      cpp += (cpp.size() > 1 ? ", ." : ".") + std::string(field.member) + " = " + value(row, field, line, rule);
    table_.rows.push_back(cpp + "}");
    if (table_.type->name == "Dissent" || table_.type->name == "DelayFigure")
      table_.remarks.push_back({rule.code, row["says"].value_or(std::string{}), rule.source, line});
    if (!table_.type->is_rule) return;
    const bool first = table_.rules.empty() || table_.rules.back().code != rule.code;
    if (first) {
      rule.measures = text(row, "measures", line);
      rule.since = text(row, "since", line);
    } else if (row.contains("measures") || row.contains("since")) {
      fault(line, "measures and since stand in the first row of a code only");
    }
    table_.rules.push_back(std::move(rule));
  }

  static int severity(std::string_view level) {  ///< larger is worse
    return static_cast<int>(kLevels.end() - std::find(kLevels.begin(), kLevels.end(), level));
  }

  /// The rows of a code stand together, mildest first: each next one is worse and its limit lies further out.
  void check_rules() {
    std::map<std::string, const Rule*> last;
    for (const auto& rule : std::as_const(table_.rules)) {
      const auto [at, fresh] = last.try_emplace(rule.code, &rule);
      if (fresh) continue;
      const Rule& before = *std::exchange(at->second, &rule);
      if (&before != &rule - 1) fault(rule.line, "the rows of " + rule.code + " do not stand together");
      const bool repeated = std::any_of(&*table_.rules.cbegin(), &rule,
                                        [&](const Rule& r) { return r.code == rule.code && r.level == rule.level; });
      if (repeated)
        fault(rule.line, "duplicate row for (" + rule.code + ", " + rule.level + ")");
      else if (severity(rule.level) <= severity(before.level))
        fault(rule.line, "limits of " + rule.code + " are not sorted: " + rule.level + " stands after " + before.level);
      const bool falling = rule.acts == "below" || rule.acts == "at_or_below";
      if (falling != (before.acts == "below" || before.acts == "at_or_below"))
        fault(rule.line, "the rows of " + rule.code + " act on different sides");
      else if (falling ? rule.limit >= before.limit : rule.limit <= before.limit)
        fault(rule.line,
              "limits of " + rule.code + " are not sorted: " + rule.limit_says + " stands after " + before.limit_says);
    }
  }

  std::vector<Fault>& faults_;
  Table table_;
};

}  // namespace

Table read_table(const std::string& path, std::vector<Fault>& faults) { return Reader(path, faults).read(); }

void check_together(const std::vector<Table>& tables, std::vector<Fault>& faults) {
  std::map<std::string, const Table*> codes;
  std::set<std::string_view> arrays;
  for (const auto& table : tables) {
    if (!table.type) continue;
    if (!arrays.insert(table.type->array).second && !table.type->in_parts)
      faults.push_back({table.file, 1, "a second table for '" + std::string(table.type->array) + "'"});
    for (const auto& rule : table.rules)
      if (const auto at = codes.try_emplace(rule.code, &table).first; at->second != &table)
        faults.push_back({table.file, rule.line, rule.code + " already stands in " + at->second->file});
  }
  if (codes.empty()) return;  // tables without rules, fed alone
  for (const auto& table : tables)
    for (const auto& remark : table.remarks)
      if (!codes.count(remark.code))
        faults.push_back({table.file, remark.line, "no rule has the code '" + remark.code + "'"});
}

}  // namespace lampside::tabulate
