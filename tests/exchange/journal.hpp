// Short journals for the tests: invented entries, numbered ids.
#pragma once

#include <gtest/gtest.h>

#include <sstream>
#include <string>
#include <vector>

#include "exchange/jsonl.hpp"
#include "zone/zone.hpp"

namespace lampside::exchange {

inline std::string id(int n) {
  const std::string digits = std::to_string(n);
  return "00000000-0000-4000-8000-" + std::string(12 - digits.size(), '0') + digits;
}

/// One line of a journal: `rest` holds kind and fields, `"kind":"birth","about":"1"`.
inline std::string line(int n, const std::string& at, const std::string& rest, const std::string& litter = "test") {
  return R"({"id":")" + id(n) + R"(","litter":")" + litter + R"(","at":")" + at + R"(","written":")" + at +
         R"(","by":"test",)" + rest + "}\n";
}

inline Result<TakenIn> read(const std::string& text) {
  std::istringstream in{text};
  return read_jsonl(in);
}
inline TakenIn must_read(const std::string& text) {
  auto taken = read(text);
  if (!taken) ADD_FAILURE() << to_text(taken.error());
  return taken.value_or(TakenIn{});
}

}  // namespace lampside::exchange
