// The full litter of the benchmarks, read from what make_full_litter.py wrote when this was built.
#pragma once

#include <algorithm>
#include <fstream>
#include <stdexcept>
#include <string>
#include <vector>

#include "record/litter.hpp"

namespace lampside::bench {

inline std::vector<std::string> lines() {
  std::ifstream in(LAMPSIDE_FULL_LITTER);
  std::vector<std::string> out;
  for (std::string line; std::getline(in, line);) out.push_back(line);
  return out;
}

inline const std::vector<record::Entry>& entries() {
  static const auto all = [] {
    std::vector<record::Entry> out;
    for (const auto& line : lines()) {
      auto entry = record::decode_line(line);
      if (!entry) throw std::runtime_error(to_text(entry.error()));
      out.push_back(std::move(*entry));
    }
    if (out.size() < 2500) throw std::runtime_error("the full litter is not full");
    return out;
  }();
  return all;
}

inline const record::Litter& litter() {
  static const auto one = record::fold(entries(), "bench-2026", Zone{});
  return one;
}

/// Its last moment, eight weeks after the births.
inline Instant its_end() {
  return std::max_element(entries().begin(), entries().end(),
                          [](const auto& a, const auto& b) { return a.at.instant < b.at.instant; })
      ->at.instant;
}

}  // namespace lampside::bench
