// Host tool: checks the trade's tables and writes them as C++ rows, or as the page about every finding.
//   lampside_tabulate rows OUT.inc TABLE.toml...
//   lampside_tabulate findings OUT.md TABLE.toml...
// Exit 1 and "file:line: message" on standard error when a table is refused; nothing is written then.
#include <algorithm>
#include <fstream>
#include <iostream>
#include <tuple>

#include "table.hpp"

int main(int argc, char** argv) {
  using namespace lampside::tabulate;
  const std::vector<std::string> arguments(argv + 1, argv + argc);
  if (arguments.size() < 3 || (arguments[0] != "rows" && arguments[0] != "findings")) {
    std::cerr << "usage: lampside_tabulate rows|findings OUT TABLE.toml...\n";
    return 2;
  }
  std::vector<Fault> faults;
  std::vector<Table> tables;
  for (std::size_t i = 2; i < arguments.size(); ++i) tables.push_back(read_table(arguments[i], faults));
  check_together(tables, faults);
  std::sort(faults.begin(), faults.end(), [](const Fault& a, const Fault& b) {
    return std::tie(a.file, a.line, a.message) < std::tie(b.file, b.line, b.message);
  });
  for (const auto& fault : faults) std::cerr << fault.file << ":" << fault.line << ": " << fault.message << "\n";
  if (!faults.empty()) return 1;

  std::ofstream out(arguments[1], std::ios::binary);
  out << (arguments[0] == "rows" ? to_cpp(tables) : to_page(tables));
  out.close();
  if (!out) {
    std::cerr << "cannot write " << arguments[1] << "\n";
    return 1;
  }
  return 0;
}
