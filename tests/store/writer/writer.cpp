// Appends pairs until it is killed, or COUNT of them: store_writer FOLDER honest|torn|early FIRST [COUNT]
// or writes people down and erases them: erase, and wrong on purpose erase_early.
// Prints the number of each pair once it is appended. Two of the ways are wrong on purpose, for the suites' twins:
// `torn` appends the halves of a pair one by one, `early` acknowledges a pair before it is appended.
#include <unistd.h>

#include <cstdlib>
#include <iostream>
#include <limits>
#include <span>
#include <string>

#include "../support.hpp"

namespace {

void acknowledge(unsigned number) { std::cout << std::to_string(number) + "\n" << std::flush; }

bool append(lampside::store::Journal& journal, std::span<const lampside::record::Entry> entries) {
  const auto receipt = journal.append(entries);
  if (!receipt) std::cerr << to_text(receipt.error()) << "\n";
  return receipt.has_value();
}

}  // namespace

int main(int argc, char** argv) {
  const std::vector<std::string> words(argv + 1, argv + argc);
  if (words.size() < 3) return 2;
  const std::string& way = words[1];
  const unsigned first = static_cast<unsigned>(std::stoul(words[2]));
  const unsigned count =
      words.size() > 3 ? static_cast<unsigned>(std::stoul(words[3])) : std::numeric_limits<unsigned>::max() - first;
  auto journal = lampside::store::open_sqlite(words[0]);
  if (!journal) {
    std::cerr << to_text(journal.error()) << "\n";
    return 1;
  }
  for (unsigned number = first; number < first + count; ++number) {
    if (way == "erase" || way == "erase_early") {
      auto& people = (*journal)->people();
      if (!people.put(lampside::store::test::person(number))) return 1;
      if (way == "erase_early") {
        acknowledge(number);
        usleep(2000);
      }
      if (!people.erase(lampside::store::test::person(number).family)) return 1;
      if (way == "erase") acknowledge(number);
      continue;
    }
    const auto pair = lampside::store::test::pair(number);
    const std::span<const lampside::record::Entry> both{pair};
    if (way == "early") {
      acknowledge(number);
      usleep(2000);
    }
    if (way == "torn") {
      if (!append(**journal, both.first(1))) return 1;
      usleep(2000);
      if (!append(**journal, both.last(1))) return 1;
    } else if (!append(**journal, both)) {
      return 1;
    }
    if (way != "early") acknowledge(number);
  }
  return 0;
}
