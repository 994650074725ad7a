#include "exchange/money_csv.hpp"

#include <array>

#include "exchange/csv.hpp"

namespace lampside::exchange {
namespace {

constexpr std::array<std::string_view, 10> kHeading{"when",   "in_or_out", "amount",  "currency", "for",
                                                    "family", "paid_by",   "receipt", "note",     "entry"};

bool guarded(char first) { return std::string_view{"=+-@\t\r\n'"}.find(first) != std::string_view::npos; }

std::string bare(const std::string& cell) {
  return cell.size() > 1 && cell[0] == '\'' && guarded(cell[1]) ? cell.substr(1) : cell;
}

}  // namespace

std::string csv_cell(std::string_view text) {
  std::string out;
  if (!text.empty() && guarded(text.front())) out += '\'';
  for (const char c : text) out += c == '"' ? std::string{"\"\""} : std::string{c};
  // A blank at either end is quoted too: some readers trim it.
  const bool quote = out.find_first_of(",;\"\r\n\t") != std::string::npos ||
                     (!out.empty() && (out.front() == ' ' || out.back() == ' '));
  return quote ? "\"" + out + "\"" : out;
}

std::string money_csv(const homes::Ledger& ledger, const Zone& zone, const NameOf& name_of) {
  std::string out;
  for (const auto name : kHeading) out += (name == kHeading.front() ? "" : ",") + std::string(name);
  out += "\r\n";
  for (const auto& l : ledger.lines) {
    const std::array<std::string, kHeading.size()> cells{to_iso(zone.stamp(l.at)),
                                                         std::string(record::name_of(l.way)),
                                                         say_cash(l.amount),
                                                         l.currency,
                                                         l.what_for,
                                                         name_of && !l.family.empty() ? name_of(l.family) : l.family,
                                                         l.paid_by,
                                                         l.receipt,
                                                         l.note,
                                                         l.id};
    for (std::size_t i = 0; i < cells.size(); ++i) out += (i ? "," : "") + csv_cell(cells[i]);
    out += "\r\n";
  }
  return out;
}

Result<std::vector<homes::MoneyLine>> read_money_csv(std::istream& in) {
  const auto table = read_table(in);
  if (!table) return tl::unexpected(table.error());
  std::vector<homes::MoneyLine> out;
  if (!std::equal(kHeading.begin(), kHeading.end(), table->heading.cells.begin(), table->heading.cells.end()))
    return problem("CSV_HEADING", "this is no table of money as Lampside writes it",
                   "take one that it wrote, with its heading");
  for (const auto& row : table->rows) {
    const auto at = parse_stamp(row.cells[0]);
    const auto way = record::from_name<record::MoneyWay>(row.cells[1]);
    const auto figure = parse_number(row.cells[2]);
    const auto amount = figure ? Cash::from_number(*figure) : std::nullopt;
    if (!at || !way || !amount)
      return tl::unexpected(at_line(row.line, {"MONEY_ROW", "a time, a direction or an amount cannot be read",
                                               "leave those columns as Lampside wrote them"}));
    out.push_back({row.cells[9], at->instant, *amount, *way, bare(row.cells[4]), row.cells[3], bare(row.cells[5]),
                   bare(row.cells[6]), row.cells[7], bare(row.cells[8])});
  }
  return out;
}

}  // namespace lampside::exchange
