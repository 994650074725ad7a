// The day a pup leaves: what must be true, the folder with the people's names in it, and the form that writes it down.
#include "homes/handover.hpp"

#include "care/records.hpp"
#include "page/homes.hpp"
#include "page/parts.hpp"

namespace lampside::page {
namespace {

std::string back_to(const record::Pup& pup) { return "handover?label=" + percent_encode(pup.label); }

Html checks(const View& view, const record::Pup& pup) {
  const auto* said = pup.handover ? &pup.handover->what : nullptr;
  Html items;
  for (const auto& check : homes::day_checks(view.litter, reference::built_in(), view.assessment.care, pup,
                                             pup.handover ? pup.handover->at : view.now, said)) {
    const std::string_view word = !check.holds ? "to do" : *check.holds ? "yes" : "no";
    items += element("li", {},
                     span("words", element("b", {}, text(check.asks)) + text(": " + check.says)) +
                         span(check.holds.value_or(false) ? "at" : "at open", text(word)));
  }
  return element("section", {{"class", "card"}},
                 h2(text("On the day")) + element("ul", {{"class", "entries"}}, items) +
                     p("caution", text("A summary of the law was read, not the statute: look yours up. Your vet's word "
                                       "comes first.")));
}

/// Whose the pup is: as handed over, else as picked; "" while it is nobody's.
std::string family_of(const View& view, const record::Pup& pup) {
  if (pup.handover && pup.handover->what.family) return *pup.handover->what.family;
  return view.assessment.homes.owner(pup.label).value_or("");
}

Html folder_form(const View& view, const record::Pup& pup) {
  // A plain form, not an entry: these names go onto the paper and nowhere else.
  Form form{"folder", litter_href(view.litter, "paper/folder.pdf"), view.token, fresh_id(view), nullptr};
  form.hidden("pup", pup.label);
  std::string family;
  if (const auto* person = person_of(view, family_of(view, pup)))
    for (const auto& part : {person->name, person->address, person->phone})
      if (!part.empty()) family += (family.empty() ? "" : ", ") + part;
  return element(
      "section", {{"class", "card"}},
      h2(text("The folder")) +
          p("",
            text("Its birth, weights, worming, vaccinations, feeding, care, contract and pictures in one document.")) +
          form.finish(form.field("family", "The family: name, address, telephone", {.value = family}) +
                          form.field("breeder", "You: name and address") +
                          form.field("telephone", "Your telephone", {.mode = "tel"}) +
                          form.field("price", "Price, with its currency") +
                          form.field("deposit", "Deposit already paid") + Form::submit("Make the folder"),
                      "stack") +
          p("hint", text("What you type here is printed and not kept.")));
}

Html contract_form(const View& view, const record::Pup& pup) {
  Form form{view, "contract", "contract", "", back_to(pup)};
  const auto& now = view.litter.contract;
  const Html field =
      element("label", {{"for", "contract-clauses"}}, text("Clauses, for every pup of this litter")) +
      element("textarea", {{"id", "contract-clauses"}, {"name", "clauses"}, {"rows", "10"}, {"required", kBare}},
              text(form.value("clauses", now ? now->what.clauses : "")));
  return fold_away(
      text("The contract's clauses"),
      p("hint",
        text("Met in contracts: price and deposit; a vet's check within three days; what happens if it "
             "falls ill in the first days; coming back to you if it cannot stay; neutering; law and "
             "place. No family's name here: it is printed in the folder, and these words are kept for ever. This is "
             "not legal advice.")) +
          form.finish(div("field", field) + Form::submit("Keep the clauses"), "stack"),
      !now, "panel", "contract");
}

Html leave_form(const View& view, const record::Pup& pup) {
  if (pup.handover) return p("hint", text("Written down ") + time_and_ago(view, pup.handover->at));
  Form form{view, "handover", "handover", pup.label, back_to(pup)};
  std::vector<Option> families;
  families.reserve(view.litter.families.size());
  for (const auto& family : view.litter.families)
    families.push_back({family.what.family, say_family(view, family.what.family)});
  Html fields;
  if (!families.empty()) fields += form.choice("family", "To which family", families, family_of(view, pup));
  fields += form.field("chip_read", "Chip, scanned now",
                       {.hint = "on paper: " + care::chip_of(view.litter, pup.label), .mode = "numeric"});
  fields += form.choice("signed", "Contract signed by both", {{"true", "Yes"}, {"false", "No"}});
  fields += form.choice("papers", "Folder and papers handed over", {{"true", "Yes"}, {"false", "No"}});
  const bool young = view.problem && view.problem->code == "HANDOVER_TOO_YOUNG";
  fields += fold_away(text("A vet's exception to the age"),
                      form.field("vet", "Which vet") + form.field("exception", "Why, in the vet's words"), young);
  return form.finish(fields + form.when() + form.note(std::string(kNoNames)) + Form::submit("It leaves: write it down"),
                     "stack");
}

}  // namespace

std::string handover_page(const View& view, const record::Pup& pup) {
  const Html main = p("turn-name", link(pup_href(view.litter, pup), pup_name(pup))) + checks(view, pup) +
                    folder_form(view, pup) +
                    element("section", {{"class", "card"}}, h2(text("It leaves")) + leave_form(view, pup)) +
                    div("panels", contract_form(view, pup));
  return page_of(view, {.title = "Handover of pup " + pup.label, .screen = "handover", .back = back_to(pup)}, main);
}

}  // namespace lampside::page
