// What an assessment says: data with a code, a level, a reason and a source. Never prose alone.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "measure/time.hpp"
#include "reference/citation.hpp"

namespace lampside::reference {

/// Worst first. `emergency`: go or ring now. `call_vet`: ring now. `act`: do it yourself, now.
/// `watch`: look again soon. `note`: good to know.
enum class Level { emergency, call_vet, act, watch, note };
std::string_view name_of(Level level);  ///< "emergency", "call_vet", "act", "watch", "note"

/// The words of one rule: the keeper's and the vet's, what to do and what not to do.
struct Words {
  std::string_view headline;      ///< lay, at most about 60 characters, says the thing first
  std::string_view professional;  ///< one line a vet would write
  std::string_view why;           ///< lay: why it matters
  std::string_view do_now;
  std::string_view do_not;  ///< may be empty
};

/// On which side of its limit a rule acts: "-4 % or worse" and "below 35 °C" differ exactly at the limit.
enum class Side { at_or_above, above, at_or_below, below };
std::string_view name_of(Side side);  ///< "at or above", "above", "at or below", "below"

/// One rule, one row: the limit it acts at, its level, its words and its source.
template <class Limit>
struct Rule {
  std::string_view code;
  Level level;
  Limit limit;
  Words words;
  Citation source;
  Side acts = Side::at_or_above;
};

constexpr double plain_number(int n) { return n; }
template <class Amount>
constexpr double plain_number(const Amount& amount) {
  return static_cast<double>(amount.count());
}

/// Whether `value` lies where the rule acts. False for a value that is not a number.
/// Trap: compare by this, not by hand. Sums leave dust: 400 g to 360 g comes out as -9.999999999999998 %, which is at
/// the limit of -10 % here.
template <class Limit>
bool reached(const Rule<Limit>& rule, Limit value) {
  constexpr double dust = 1e-9;
  const double over = plain_number(value) - plain_number(rule.limit);
  switch (rule.acts) {
    case Side::at_or_above:
      return over >= -dust;
    case Side::above:
      return over > dust;
    case Side::at_or_below:
      return over <= dust;
    case Side::below:
      return over < -dust;
  }
  return false;
}

struct Finding {
  std::string code;
  Level level;
  std::string about;  ///< "dam", a pup's label, "box", or "litter"
  std::string headline;
  std::string because;  ///< the reason with its numbers, said for this litter now
  std::string why;
  std::string do_now;
  std::string do_not;
  std::string professional;
  Citation source;
  std::optional<Instant> since;  ///< when the limit was crossed, or the reading taken
};

/// A finding from a rule row; `because` carries the numbers.
template <class Limit>
Finding found(const Rule<Limit>& rule, std::string about, std::string because, std::optional<Instant> since) {
  return Finding{std::string(rule.code),
                 rule.level,
                 std::move(about),
                 std::string(rule.words.headline),
                 std::move(because),
                 std::string(rule.words.why),
                 std::string(rule.words.do_now),
                 std::string(rule.words.do_not),
                 std::string(rule.words.professional),
                 rule.source,
                 since};
}

/// "Cannot tell" is an answer: too old, missing, implausible or out of the reference's range.
/// Codes: NO_DATA, STALE, FUTURE, NO_REFERENCE, NOT_BORN, TOO_COARSE (the scale cannot tell), DEPARTED, DIED, SILENCED.
struct NotAssessed {
  std::string_view code;
  std::string why;
};
template <class T>
using Assessed = std::variant<NotAssessed, T>;

/// The value, or null. It points into `a`: what is about to be destroyed is not taken.
template <class T>
const T* value_of(const Assessed<T>& a) {
  return std::get_if<T>(&a);
}
template <class T>
const T* value_of(const Assessed<T>&& a) = delete;

}  // namespace lampside::reference
