// A table of the trade as read from its TOML file, checked against what its row type asks for.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace lampside::tabulate {

/// What is wrong with a table, and where: printed as "file:line: message".
struct Fault {
  std::string file;
  std::uint32_t line;
  std::string message;
};

enum class Kind {
  text,
  maybe_text,    ///< there, but may be empty
  text_or_none,  ///< may be left out: then empty
  number,
  number_or_zero,  ///< may be left out: then 0
  whole,
  flag,
  minutes,
  hours,
  days,
  grams,
  milligrams,
  millilitres,
  kcal_100g,
  celsius,
  percent,
  level,
  acts,
  words,
  source
};

/// One member of a row: its key in the file (with the unit), its name in the C++ struct, and what it holds.
struct Field {
  std::string_view key;
  std::string_view member;
  Kind kind;
  std::string_view otherwise = {};  ///< the C++ value of a row that leaves the key out; empty: it must be there
};

struct RowType {
  std::string_view name;   ///< the C++ struct
  std::string_view array;  ///< the member of Reference
  std::vector<Field> fields;
  bool is_rule = false;
  bool in_parts = false;  ///< may lie in several files
};

struct Source {
  std::string work, locator, standing;
  bool operator==(const Source&) const = default;
};

/// What a rule row says beyond its members: for its page in docs/findings.md.
struct Rule {
  std::string code, level, acts;
  double limit = 0;
  std::string limit_says;  ///< "20 min", "37.8 °C (100 °F)"
  std::string measures, since;
  std::string headline, professional, why, do_now, do_not;
  Source source;
  std::uint32_t line = 0;
};

/// A dissenting figure, or one on delay: what it says to the rule of that code.
struct Remark {
  std::string code, says;
  Source source;
  std::uint32_t line = 0;
};

struct Table {
  std::string file;
  const RowType* type = nullptr;
  std::vector<std::string> rows;  ///< each a C++ designated initialiser, in file order
  std::vector<Rule> rules;        ///< where the rows are rules
  std::vector<Remark> remarks;    ///< where the rows are dissents or figures on delay
};

const std::vector<RowType>& row_types();

/// Reads and checks one table; what is wrong is added to `faults`.
Table read_table(const std::string& path, std::vector<Fault>& faults);

/// Checks what only shows between tables: a code lives in one table, a remark speaks to a code that is there.
void check_together(const std::vector<Table>& tables, std::vector<Fault>& faults);

/// The C++ text with every table, and the page about every finding.
std::string to_cpp(const std::vector<Table>& tables);
std::string to_page(const std::vector<Table>& tables);

}  // namespace lampside::tabulate
