// From what a keeper typed about a family to who they are (kept apart) and the entry that puts them on the list.
#pragma once

#include "record/person.hpp"
#include "server/forms.hpp"

namespace lampside::server {

struct FamilyTyped {
  record::Person person;
  std::optional<record::Entry> entry;  ///< only of a new family
};
/// POST /l/KEY/person. `family` empty: a new one, under an id made from the form's own. A pasted vCard fills what was
/// not typed. No error says what was typed. Errors: PERSON_EMPTY, PERSON_LONG, PERSON_CARDS, DAY_*, those of
/// exchange::read_vcards and entry_from.
Result<FamilyTyped> family_from(const Fields& form, const Known& known);

/// The entry that says a family's data were erased. Errors: FORM_SURE (not confirmed), ENTRY_ID.
Result<record::Entry> erased_from(const Fields& form, const Known& known);

}  // namespace lampside::server
