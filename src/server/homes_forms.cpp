#include "server/homes_forms.hpp"

#include <algorithm>
#include <sstream>

#include "exchange/vcard.hpp"

namespace lampside::server {
namespace {

constexpr std::size_t kMost = 4000;

Result<record::Person> person_from(const Fields& form) {
  record::Person person{};
  if (const auto card = typed(form, "vcard"); !card.empty()) {
    std::istringstream in{card};
    auto cards = exchange::read_vcards(in);
    if (!cards) return tl::unexpected(cards.error());
    if (cards->size() > 1)
      return problem("PERSON_CARDS", "there is more than one card in it", "paste one family's card, then the next");
    person = std::move(cards->front());
  }
  const auto lay_over = [&](std::string& field, const char* name) {
    if (auto text = typed(form, name); !text.empty()) field = std::move(text);
  };
  lay_over(person.name, "name");
  lay_over(person.phone, "phone");
  lay_over(person.email, "email");
  lay_over(person.address, "address");
  lay_over(person.note, "person_note");
  person.consent = person.consent || typed(form, "consent") == "true";
  person.family = typed(form, "family");
  person.keep_until.reset();
  if (const auto until = typed(form, "keep_until"); !until.empty()) {
    const auto day = parse_day(until);
    if (!day)
      return problem("PERSON_DAY", "the day until which to keep this cannot be read",
                     "choose it from the calendar, or leave it empty");
    person.keep_until = *day;
  }
  for (const auto* text : {&person.name, &person.phone, &person.email, &person.address, &person.note})
    if (text->size() > kMost)
      return problem("PERSON_LONG", "one of the fields is too long", "keep each under 4000 letters");
  if (person.name.empty() && person.phone.empty() && person.email.empty())
    return problem("PERSON_EMPTY", "nobody is named: no name, no telephone, no e-mail", "type at least one of them");
  return person;
}

}  // namespace

Result<FamilyTyped> family_from(const Fields& form, const Known& known) {
  auto person = person_from(form);
  if (!person) return tl::unexpected(person.error());
  FamilyTyped out{std::move(*person), std::nullopt};
  if (!out.person.family.empty()) return out;
  // From the form's own id, so that a form sent twice makes one family.
  const auto id = typed(form, "id");
  out.person.family = "f-" + id.substr(0, 8);
  Fields fields;
  for (const auto* name : {"id", "sex", "colour", "purpose", "earliest"})
    if (const auto text = typed(form, name); !text.empty()) fields.emplace(name, text);
  fields.emplace("kind", "family");
  fields.emplace("family", out.person.family);
  auto entry = entry_from(fields, known);
  if (!entry) return tl::unexpected(entry.error());
  out.entry = std::move(*entry);
  return out;
}

Result<record::Entry> erased_from(const Fields& form, const Known& known) {
  if (typed(form, "sure") != "yes")
    return problem("FORM_SURE", "it was not said that they should be erased for good",
                   "choose \"Yes, for good\", or leave it");
  const auto id = typed(form, "id");
  if (const auto* already = known.find(id)) return *already;
  const auto now = known.litter.zone.stamp(known.now);
  auto entry = record::make_entry(id, known.litter.key, now, now, known.by, "", record::Erased{typed(form, "family")});
  if (const auto ok = record::check(entry); !ok) return tl::unexpected(ok.error());
  return entry;
}

}  // namespace lampside::server
