// What an operation gives back when the world, not our code, may be at fault.
#pragma once

#include <string>
#include <tl/expected.hpp>

namespace lampside {

/// An expected error, told to a person.
/// `code` is permanent and never reused; `what` says what is wrong; `todo` says what to do about it.
struct Problem {
  std::string code;
  std::string what;
  std::string todo;
  bool operator==(const Problem&) const = default;
};

/// One line for a log or a terminal: "what - todo [code]".
inline std::string to_text(const Problem& p) {
  return p.what + (p.todo.empty() ? "" : " - " + p.todo) + " [" + p.code + "]";
}

template <class T>
using Result = tl::expected<T, Problem>;

inline tl::unexpected<Problem> problem(std::string code, std::string what, std::string todo) {
  return tl::unexpected<Problem>(Problem{std::move(code), std::move(what), std::move(todo)});
}

}  // namespace lampside
