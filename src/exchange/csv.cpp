#include "exchange/csv.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <utility>

#include "exchange/words.hpp"

namespace lampside::exchange {
namespace {

char separator_of(std::string_view heading) {
  char found = ',';
  bool quoted = false;
  for (const char c : heading) {
    if (c == '"') quoted = !quoted;
    if (quoted) continue;
    if (c == '\t') return c;
    if (c == ';') found = c;
  }
  return found;
}

class RowReader {
 public:
  RowReader(LineReader& lines, Limits limits) : lines_{lines}, limits_{limits} {}
  void separate_at(char separator) { separator_ = separator; }

  Result<bool> next_line() { return lines_.next(line_); }
  std::string& line() { return line_; }

  /// Splits the current line, and those a quoted cell goes on into.
  Result<Row> split() {
    Row row{lines_.line(), {}};
    std::string cell;
    std::size_t i = 0;
    std::size_t size = line_.size();
    const auto quote_problem = [&](std::string what) {
      return tl::unexpected(at_line(row.line, {"CSV_QUOTE", std::move(what),
                                               "a quoted cell begins and ends with \"; one inside is written \"\""}));
    };
    for (;;) {
      cell.clear();
      const bool quoted = i < line_.size() && line_[i] == '"';
      if (!quoted) {
        while (i < line_.size() && line_[i] != separator_) cell += line_[i++];
      } else {
        for (++i;;) {
          if (i >= line_.size()) {
            const auto more = lines_.next(line_);
            if (!more) return tl::unexpected(more.error());
            if (!*more) return quote_problem("a quoted cell is never closed");
            if ((size += line_.size()) > limits_.line)
              return quote_problem("a quoted cell is longer than a line may be");
            cell += '\n';
            i = 0;
            continue;
          }
          if (line_[i] != '"') {
            cell += line_[i++];
          } else if (i + 1 < line_.size() && line_[i + 1] == '"') {
            cell += '"';
            i += 2;
          } else {
            ++i;
            break;
          }
        }
        if (i < line_.size() && line_[i] != separator_) return quote_problem("text follows a closing quote");
      }
      row.cells.emplace_back(quoted ? std::string_view{cell} : trimmed(cell));
      if (i >= line_.size()) return row;
      ++i;
    }
  }

 private:
  LineReader& lines_;
  Limits limits_;
  std::string line_;
  char separator_ = ',';
};

bool empty(const Row& row) {
  return std::all_of(row.cells.begin(), row.cells.end(), [](const std::string& c) { return c.empty(); });
}

}  // namespace

Result<Table> read_table(std::istream& in, Progress progress, Limits limits) {
  LineReader lines{in, limits, std::move(progress)};
  RowReader reader{lines, limits};
  Table table;
  std::optional<char> said;
  for (;;) {
    const auto more = reader.next_line();
    if (!more) return tl::unexpected(more.error());
    if (!*more) break;
    const std::string& line = reader.line();
    const bool heading = table.heading.cells.empty();
    if (heading && line.size() == 5 && line.starts_with("sep=") && !said) {
      said = line.back();
      continue;
    }
    if (heading) reader.separate_at(table.separator = said.value_or(separator_of(line)));
    auto row = reader.split();
    if (!row) return tl::unexpected(row.error());
    if (empty(*row)) continue;
    if (heading) {
      table.heading = std::move(*row);
      continue;
    }
    while (row->cells.size() > table.heading.cells.size() && row->cells.back().empty()) row->cells.pop_back();
    if (row->cells.size() > table.heading.cells.size())
      return tl::unexpected(at_line(
          row->line,
          {"CSV_CELLS", fmt::format("{} cells under a heading of {}", row->cells.size(), table.heading.cells.size()),
           "if numbers have a decimal comma, save with ; between the cells"}));
    row->cells.resize(table.heading.cells.size());
    table.rows.push_back(std::move(*row));
  }
  if (table.heading.cells.empty() || table.rows.empty())
    return problem("FILE_EMPTY", "the file holds no row of weights",
                   "the first line names the columns, each further line is a weighing");
  return table;
}

}  // namespace lampside::exchange
