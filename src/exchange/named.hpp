// Where free words of the journal name a person, and what those entries are without the name.
#pragma once

#include <string>
#include <vector>

#include "record/litter.hpp"
#include "record/person.hpp"

namespace lampside::exchange {

/// What is looked for: the name as it is written down, each word of it that is a name by itself, telephone, e-mail.
std::vector<std::string> names_of(const record::Person& person);

struct Named {
  record::Entry without;  ///< the same entry, its words without the name, marked with `name_out`
  std::string says;       ///< the words as they stand, for a person to judge
  bool struck = false;    ///< struck out or corrected already, and still readable
};
/// Every entry of this litter that names them, also those struck out. A name may be another's, or a word: nothing is
/// taken out but what a person says. `by` is left: it tells who wrote.
std::vector<Named> naming(const record::Litter& litter, const record::Person& person, CivilDay today);

/// Two of one id that differ in nothing but words, and one of them says that a name was taken out of it: no conflict,
/// each journal keeps its own.
bool same_but_for_a_name(const record::Entry& one, const record::Entry& other);

}  // namespace lampside::exchange
