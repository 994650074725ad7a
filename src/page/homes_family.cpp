// One family: who they are (kept apart, erasable), what they look for, their turn, deposits, and what may be done with
// their data.
#include "homes/keep.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "homes/match.hpp"
#include "page/homes.hpp"

namespace lampside::page {
namespace {

std::vector<Option> purposes() {
  std::vector<Option> out;
  for (const auto& band : reference::built_in().behaviour_bands)
    out.push_back({std::string(band.purpose), sentence(band.title)});
  out.push_back({"show", "Shows"});
  out.push_back({"breeding", "Breeding"});
  return out;
}

Html wish_fields(const Form& form, const record::Family& wish) {
  return form.choice("sex", "Sex", {{"", "Either"}, {"female", "Bitch"}, {"male", "Dog"}},
                     wish.sex ? std::string(record::name_of(*wish.sex)) : "") +
         form.field("colour", "Colour", {.value = wish.colour.value_or(""), .hint = std::string(kNoNames)}) +
         form.field("earliest", "Not before", {.value = wish.earliest ? to_iso(*wish.earliest) : "", .type = "date"}) +
         form.choice("purpose", "For", purposes(), wish.purpose.value_or(""));
}

/// More than these are asked about together: a name that is a common word.
constexpr std::size_t kNamingOneByOne = 30;

Html person_fields(const Form& form, const record::Person& person) {
  return form.field("name", "Name", {.value = person.name}) +
         div("field-row", form.field("phone", "Telephone", {.value = person.phone, .type = "tel", .mode = "tel"}) +
                              form.field("email", "E-mail", {.value = person.email, .mode = "email"})) +
         form.field("address", "Address", {.value = person.address, .rows = 3}) +
         form.field("person_note", "About them", {.value = person.note, .rows = 3}) +
         form.field("keep_until", "Keep these lines until",
                    {.value = person.keep_until ? to_iso(*person.keep_until) : "",
                     .hint = "Empty: by the rule, told on their page",
                     .type = "date"}) +
         form.choice("consent", "They agreed that this is kept", {{"true", "Yes"}, {"false", "Not asked yet"}},
                     person.consent ? "true" : "false") +
         fold_away(text("From a contact of the telephone (vCard)"),
                   div("field", element("label", {{"for", "person-card"}}, text("A .vcf file")) +
                                    element("input", {{"type", "file"},
                                                      {"id", "person-card"},
                                                      {"name", "card"},
                                                      {"accept", ".vcf,text/vcard,text/x-vcard"}})) +
                       form.field("vcard", "Or its text, pasted",
                                  {.hint = "Share the contact from the telephone, then choose or copy it", .rows = 4}),
                   !form.value("vcard", "").empty(), "small");
}

const std::map<std::string, std::string>* typed_if(const View& view, const char* form) {
  const auto held = view.typed.find("form");
  return view.problem && held != view.typed.end() && held->second == form ? &view.typed : nullptr;
}

Form to(const View& view, const char* name, const char* address, const std::string& family) {
  Form form{name, litter_href(view.litter, address), view.token, fresh_id(view), typed_if(view, name)};
  form.hidden("form", name);
  form.hidden("family", family);
  return form;
}

Html contact_card(const View& view, const homes::Waiting* waiting, const std::string& family) {
  const auto* person = person_of(view, family);
  Html body;
  if (waiting) body += p("hint", text("Place " + std::to_string(waiting->place) + " on the list."));
  if (person) {
    if (const auto call = tel_href(person->phone); !call.empty())
      body += p("", link(call, text(person->phone)));
    else if (!person->phone.empty())
      body += p("", text(person->phone));
    if (!person->email.empty()) body += p("", link("mailto:" + percent_encode(person->email), text(person->email)));
    if (!person->address.empty()) body += p("as-typed", text(person->address));
    if (!person->note.empty()) body += p("as-typed", text(person->note));
    const auto keep = homes::keep_until(*person, view.litter, view.assessment.homes, reference::built_in(), view.now);
    const bool over = keep.until && *keep.until < view.litter.zone.day_of(view.now);
    body += p(over ? "caution" : "hint",
              text(keep.until ? (over ? "Was to be kept until " : "Kept until ") + say_day(*keep.until) + ": " +
                                    keep.because + (over ? ". Erase it below, or set another date." : ".")
                              : "Kept for now: " + keep.because + "."));
    if (keep.rule) body += source_line(keep.rule->source);
    if (!person->consent) body += p("hint", text("Not asked yet whether they agree that this is kept."));
    const std::string query = "?family=" + percent_encode(family);
    body += div("ends", link(litter_href(view.litter, "family.vcf" + query), text("As a vCard"), "button quiet") +
                            link(litter_href(view.litter, "family.json" + query), text("All that is kept about them"),
                                 "button quiet"));
  } else {
    const auto erased = std::find_if(view.litter.erased.begin(), view.litter.erased.end(),
                                     [&](const auto& e) { return e.what.family == family; });
    body += p("", erased == view.litter.erased.end() ? text("Who they are is not written down.")
                                                     : text("Who they were was erased ") + at_time(view, erased->at) +
                                                           text(". What happened stays, without the person."));
  }
  return element("section", {{"class", "card"}}, body);
}

Html turn_of(const View& view, const homes::Waiting& waiting, const record::Family& wish, const std::string& here) {
  const auto& order = view.assessment.homes;
  if (waiting.pup)
    return element("section", {{"class", "card"}},
                   p("big", text((waiting.gone ? "Went home with pup " : "Picked pup ") + *waiting.pup)) +
                       (waiting.gone ? Html{}
                                     : one_tap(view, "release", "choice", *waiting.pup, here,
                                               {{"made", "release"}, {"family", waiting.family}},
                                               text("They give it up"), "button quiet")));
  if (!waiting.waits() || order.free_pups.empty()) return {};
  const bool turn = order.next == waiting.family;
  Form form{"pick", litter_href(view.litter, "record"), view.token, fresh_id(view), typed_if(view, "pick")};
  for (const auto& [name, value] : std::vector<std::pair<std::string, std::string>>{
           {"form", "pick"}, {"kind", "choice"}, {"made", "pick"}, {"family", waiting.family}, {"back", here}})
    form.hidden(name, value);
  std::vector<Option> free;
  for (const auto& label : order.free_pups) {
    const auto* pup = view.litter.pup(label);
    const auto& sex = pup->birth.what.sex;
    free.push_back({label, say_pup(*pup) + (sex ? ", " + std::string(words_for(*sex)) : "")});
  }
  Html fits;
  for (const auto& label : order.free_pups) {
    std::string reasons;
    for (const auto& r : homes::fit(view.litter, wish, *view.litter.pup(label), reference::built_in()).reasons)
      reasons.append(reasons.empty() ? "" : "; ").append(r);
    fits += element("li", {}, text("Pup ") + text(label) + text(": ") + text(reasons));
  }
  return element(
      "section", {{"class", "card"}, {"id", "turn"}},
      h2(text(turn ? "It is their turn" : "Not their turn")) +
          (turn ? Html{} : p("hint", text("A pick out of turn needs a reason, which is written down and shown."))) +
          form.finish(form.choice("about", "They take", free, "", true) +
                          (turn ? Html{} : form.field("why", "Why out of turn", {.hint = std::string(kNoNames)})) +
                          Form::submit("Save"),
                      "stack") +
          one_tap(view, "pass", "choice", "", here, {{"made", "pass"}, {"family", waiting.family}},
                  text("They pass, and keep their place"), "button quiet") +
          fold_away(text("How each would fit"), element("ul", {}, fits), false, "small"));
}

Html deposits(const View& view, const std::string& family, const std::string& here) {
  Html rows;
  for (const auto& d : view.litter.deposits)
    if (d.what.family == family)
      rows +=
          element("li", {},
                  text(say_cash(d.what.amount, d.what.currency) +
                       (d.what.returned.value_or(false) ? " given back " : " came ")) +
                      at_time(view, d.at) + (d.what.refundable ? text(". Refundable: " + *d.what.refundable) : Html{}) +
                      strike_button(view, d.id, here, "Take out", say_cash(d.what.amount, d.what.currency)));
  Form form{view, "deposit", "deposit", "", here};
  form.hidden("family", family);
  return (rows.empty() ? Html{} : element("ul", {{"class", "entries"}}, rows)) +
         form.finish(
             div("field-row",
                 form.field("amount", "Amount", {.mode = "decimal", .required = true}) +
                     form.field("currency", "Currency", {.value = usual_currency(view.litter), .placeholder = "GBP"})) +
                 form.choice("returned", "Which way", {{"", "It came in"}, {"true", "Given back"}}) +
                 form.field("refundable", "Refundable, as agreed",
                            {.hint = "until the pick; never; if no bitch is born. No names: the journal keeps it"}) +
                 form.when_folded() + Form::submit("Save"),
             "stack");
}

Html consents(const View& view, const std::string& family, const std::string& here) {
  Html rows;
  for (const auto& c : view.litter.consents)
    if (c.what.family == family)
      rows +=
          element("li", {}, text(in_words(c.what.what) + (c.what.given ? ": yes, " : ": no, ")) + at_time(view, c.at));
  Form form{view, "consent", "consent", "", here};
  form.hidden("family", family);
  return (rows.empty() ? Html{} : element("ul", {{"class", "entries"}}, rows)) +
         form.finish(
             form.choice(
                 "what", "About",
                 {{"follow_up", "We may ask how it goes, later"}, {"photos", "Pictures of the pup may be shown"}}, "",
                 true) +
                 form.choice("given", "They say", {{"true", "Yes"}, {"false", "No"}}, "", true) + Form::submit("Save"),
             "stack");
}

/// Free words that name them: shown, asked about one by one, and never changed silently.
Html words_that_name(const View& view, const Form& form) {
  if (view.naming.empty()) return {};
  Html out = p(
      "caution",
      text(fmt::format("{} {} in the journal {} to name them. Look at each: a name may be somebody else's, or a word. "
                       "What you take out is replaced by \"[erased]\" in the file too; numbers and times stay.",
                       view.naming.size(), view.naming.size() == 1 ? "entry" : "entries",
                       view.naming.size() == 1 ? "seems" : "seem")));
  const std::vector<Option> ways{{"yes", "Take it out"}, {"no", "Leave it"}};
  if (view.naming.size() > kNamingOneByOne) {
    Html items;
    for (const auto& n : view.naming) items += element("li", {}, text(n.says + ", ") + at_time(view, n.at));
    return out + fold_away(text("All of them"), element("ul", {{"class", "entries"}}, items), false, "small") +
           form.choice("out-all", "The names in these entries", ways, "", true);
  }
  for (const auto& n : view.naming)
    out += form.choice("out-" + n.id,
                       fmt::format("{}{}: \"{}\"", say_when(view, n.at), n.struck ? ", struck out" : "", n.says), ways,
                       "", true);
  return out;
}

Html erase_form(const View& view, const std::string& family) {
  Form form = to(view, "erase", "erase", family);
  return p("caution", text("Name, telephone, e-mail, address and note go for good: nothing can bring them back. "
                           "Deposits, picks and money stay, "
                           "without the person. Copies you made before still hold it: delete those too.")) +
         form.finish(words_that_name(view, form) +
                         form.choice("sure", "Erase who they are", {{"yes", "Yes, for good"}}, "", true) +
                         Form::submit("Erase"),
                     "stack");
}

}  // namespace

std::string usual_currency(const record::Litter& litter) {
  std::string out;
  for (const auto& d : litter.deposits) out = d.what.currency.value_or(out);
  for (const auto& m : litter.money) out = m.what.currency.value_or(out);
  return out;
}

std::string new_family_page(const View& view) {
  Form form = to(view, "person", "person", "");
  form.with_files();
  const Html main = form.finish(
      element("section", {{"class", "card"}},
              h2(text("Who they are")) + p("hint", text("Kept apart from the journal. You can erase it at any time.")) +
                  person_fields(form, {})) +
          element("section", {{"class", "card"}}, h2(text("What they look for")) + wish_fields(form, {})) +
          Form::submit("Put them on the list", "button save"),
      "stack");
  return page_of(view, {.title = "A new family", .screen = "homes", .back = "homes?family=new"}, main);
}

std::string family_page(const View& view, const std::string& family) {
  const auto* waiting = view.assessment.homes.family(family);
  const std::string here = "homes?family=" + percent_encode(family);
  record::Family wish{};
  wish.family = family;
  for (const auto& f : view.litter.families)
    if (f.what.family == family) wish = f.what;
  const auto* person = person_of(view, family);

  Form who = to(view, "person", "person", family);
  who.with_files();
  Form looks{view, "family", "family", "", here};
  looks.hidden("family", family);
  Form status{view, "status", "family", "", here};
  status.hidden("family", family);
  const bool out = waiting && waiting->withdrawn;
  status.hidden("status", out ? "waiting" : "withdrawn");

  Html main = contact_card(view, waiting, family);
  if (waiting) main += turn_of(view, *waiting, wish, here);
  Html panels =
      fold_away(text("Who they are"),
                who.finish(person_fields(who, person ? *person : record::Person{}) + Form::submit("Save"), "stack"),
                who.refused(), "panel", "who") +
      fold_away(text("What they look for"), looks.finish(wish_fields(looks, wish) + Form::submit("Save"), "stack"),
                false, "panel", "wishes") +
      fold_away(text("Deposits"), deposits(view, family, here), false, "panel", "deposits") +
      fold_away(text("What they agreed to"), consents(view, family, here), false, "panel", "consents") +
      fold_away(text(out ? "Put them back on the list" : "They withdraw"),
                status.finish(status.field("why", "Why", {.hint = std::string(kNoNames)}) +
                                  Form::submit(out ? "Put back" : "They withdraw"),
                              "stack"),
                false, "panel", "status-panel");
  if (person)
    panels += fold_away(text("Erase who they are"), erase_form(view, family), typed_if(view, "erase") != nullptr,
                        "panel", "erase-panel");
  main += div("panels", panels) +
          div("ends", link(litter_href(view.litter, "homes"), text("To all families"), "button quiet"));
  return page_of(view, {.title = sentence(say_family(view, family)), .screen = "homes", .back = here}, main);
}

}  // namespace lampside::page
