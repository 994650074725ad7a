// Dosing round: one product, the whole litter. Who gets how much, ticked one by one; who gets none, and why.
#include <algorithm>
#include <cmath>

#include "care/given.hpp"
#include "page/parts.hpp"

namespace lampside::page {
namespace {

using care::DogDose;
using care::DosingRound;
using care::Measured;

std::string here(const DosingRound& round) { return "dosing?product=" + percent_encode(round.product); }

const record::Product* label_words(const View& view, const DosingRound& round) {
  for (const auto& p : view.litter.products)
    if (p.id == round.label_entry) return &p.what;
  return nullptr;
}

Html name_of_dog(const View& view, const DogDose& dog) {
  if (const auto* pup = view.litter.pup(dog.about)) return pup_link(view, *pup);
  return span("pup-link", span("pup-name", text(say_about(view.litter, dog.about))));
}

std::string_view amount_field(Measured in) {
  return in == Measured::ml ? "ml" : in == Measured::tablets ? "tablets" : "grams";
}

std::string say_mg_kg(const std::vector<MgPerKg>& all) {
  std::string out;
  for (const auto mg : all) out += (out.empty() ? "" : " + ") + say_number(mg.count(), mg.count() < 1 ? 2 : 1);
  return out + " mg/kg";
}

/// What every entry of this round says beside the amount.
std::vector<std::pair<std::string, std::string>> facts_of(const View& view, const DosingRound& round,
                                                          const DogDose& dog) {
  std::vector<std::pair<std::string, std::string>> out{{"product", round.product}};
  const auto* words = label_words(view, round);
  if (words && words->active) out.emplace_back("active", *words->active);
  if (round.label && round.label->strength.per == Measured::ml && round.label->strength.mg.size() == 1)
    out.emplace_back("mg_ml", say_number(round.label->strength.mg.front().count(), 6));
  if (words && words->lot) out.emplace_back("lot", *words->lot);
  if (const auto* weight = reference::value_of(dog.weight))
    out.emplace_back("weight_g", say_number(weight->grams.count(), 0));
  return out;
}

Html tick(const View& view, const DosingRound& round, const DogDose& dog, care::Portion give, bool first) {
  auto fields = facts_of(view, round, dog);
  fields.emplace_back(amount_field(give.in), say_number(give.count, 4));
  return one_tap(view, (first ? "give-" : "give-above-") + dog.about, "dose", dog.about, here(round), fields,
                 text("Given " + care::say(give)), first ? "button" : "button quiet");
}

/// Another amount, or one given although nothing is worked out: what was done is written down as it was.
Html other_amount(const View& view, const DosingRound& round, const DogDose& dog) {
  if (!round.label) return {};
  const auto in = round.label->strength.per;
  Form form{view, "other-" + dog.about, "dose", dog.about, here(round)};
  for (const auto& [name, value] : facts_of(view, round, dog)) form.hidden(name, value);
  const std::string unit = in == Measured::ml ? "ml" : in == Measured::tablets ? "tablets" : "g";
  return form.finish(
      div("field-row", form.field(std::string(amount_field(in)), "Given all the same, or another amount, " + unit,
                                  {.mode = "decimal", .required = true}) +
                           Form::submit("Write down", "button quiet")),
      "stack");
}

Html leave_out(const View& view, const DosingRound& round, const DogDose& dog) {
  Form form{view, "skip-" + dog.about, "dose_skipped", dog.about, here(round)};
  form.hidden("product", round.product);
  return form.finish(form.choice("reason", "Not given, because",
                                 {{"ill or cold", "ill or cold"},
                                  {"loose stools", "loose stools"},
                                  {"spat it out", "spat it out"},
                                  {"not here", "not here"},
                                  {"the vet said no", "the vet said no"}},
                                 "", true) +
                         Form::submit("Leave out", "button quiet"),
                     "stack");
}

Html weight_said(const View& view, const DogDose& dog) {
  const auto* weight = reference::value_of(dog.weight);
  if (!weight) return {};
  const auto unit = dog.about == "dam" ? WeightUnit::kilograms : view.litter.units().weight;
  return p("hint", text(say(weight->grams, unit) + (weight->smoothed ? " by all its weighings, last " : ", weighed ")) +
                       at_time(view, weight->weighed));
}

Html row(const View& view, const DosingRound& round, const DogDose& dog) {
  Html head = name_of_dog(view, dog), body, more;
  std::string state = "to-do";
  if (!dog.given.empty()) {
    state = "given";
    for (const auto& g : dog.given) {
      const auto amount = round.label ? care::portion_given(g.what, round.label->strength.per) : std::nullopt;
      const std::string said = "given" + (amount ? " " + care::say(*amount) : "");
      body += div("dose-given",
                  span("dose-state", text("✓ " + said + " ")) + span("at", at_time(view, g.at)) +
                      strike_button(view, g.id, here(round), "Undo", say_about(view.litter, dog.about) + ", " + said));
    }
  } else if (dog.skipped) {
    state = "left-out";
    body += div("dose-given",
                span("dose-state", text("left out: " + dog.skipped->what.reason + " ")) +
                    span("at", at_time(view, dog.skipped->at)) +
                    strike_button(view, dog.skipped->id, here(round), "Undo", say_about(view.litter, dog.about)));
  } else if (dog.dose) {
    const auto& dose = *dog.dose;
    head += span("dose-amount", text(care::say(dose.give)));
    Html said = weight_said(view, dog) +
                p("hint", text(say_mg_kg(dose.gives)) + text(care::say(dose.give) != care::say(dose.exact)
                                                                 ? ", down from " + care::say(dose.exact)
                                                                 : ", as the label says"));
    if (round.label->days_in_row > 1)
      said += p("hint", text("Day " + std::to_string(dog.day) + " of " + std::to_string(round.label->days_in_row)));
    Html buttons = tick(view, round, dog, dose.give, true);
    if (dose.above) {
      said += p("", text("The label says at least " + say_number(dose.exact.count, 3) + ": " + care::say(dose.give) +
                         " falls short. " + care::say(*dose.above) + " would be " + say_mg_kg(dose.above_gives) +
                         ": ask your vet which."));
      buttons += tick(view, round, dog, *dose.above, false);
    }
    body += div("dose-words", said) + div("dose-buttons", buttons);
    more = leave_out(view, round, dog) + other_amount(view, round, dog);
  } else {
    state = "refused";
    Html reasons;
    for (const auto& r : dog.refused) {
      // Told once, above the list.
      const bool labels = r.code == "LABEL" || r.code == "STRENGTH_DOUBT" || r.code == "OPENED_WHEN";
      reasons += element("li", {}, text(labels ? "The label, see above" : sentence(r.why)));
    }
    body += weight_said(view, dog) + element("ul", {{"class", "refusals"}}, reasons);
    more = leave_out(view, round, dog) + other_amount(view, round, dog);
    head += span("dose-none", text("no dose"));
  }
  if (!more.empty())
    body +=
        fold_away(text("Left out, or another amount") + span("unseen", text(", " + say_about(view.litter, dog.about))),
                  more, false, "small");
  return element("li", {{"class", "dog-dose " + state}}, div("dose-head", head) + body);
}

Html cautions() {
  return element(
      "p", {{"class", "caution"}},
      text("Your vet's word and your law come first. Not every wormer is safe for every breed and age: ask your "
           "vet before the first dose. A chilled or ill pup is not wormed."));
}

Html label_said(const View& view, const DosingRound& round) {
  const auto* words = label_words(view, round);
  if (!words) return {};
  const auto line = [](std::string_view name, const std::string& value) {
    return value.empty() ? Html{} : element("dt", {}, text(name)) + element("dd", {}, text(value));
  };
  const auto number = [](const auto& n, std::string_view unit) {
    return n ? say_number(n->count(), 3) + " " + std::string(unit) : std::string{};
  };
  const std::string as = words->strength_as == record::Basis::salt ? " as salt" : "";
  Html list = line("Active", words->active.value_or("")) + line("Strength", words->strength.value_or("") + as) +
              line("Dose", (words->at_least.value_or(false) ? "at least " : "") + words->dose.value_or("")) +
              line("From", number(words->min_age_d, "days of age")) + line("and", number(words->min_kg, "kg")) +
              line("Again after", number(words->repeat_d, "days")) +
              line("Lot", words->lot.value_or("not written down"));
  if (round.label && round.label->use_by) list += line("Use up to", say_day(*round.label->use_by));
  Html out = element("dl", {{"class", "label-words"}}, list);
  if (!round.other_strengths.empty())
    out += p("caution", text(sentence(round.other_strengths) + ". Read the strength on the bottle in your hand."));
  return out;
}

/// The label as a form; with `round`, laid over the one there is.
Html label_form(const View& view, const DosingRound* round) {
  const record::Product none{};
  const auto* known = round ? label_words(view, *round) : nullptr;
  const record::Product& p = known ? *known : none;
  Form form{view, known ? "label-change" : "label", "product", "", "dosing", known ? round->label_entry : ""};
  const auto number = [](const auto& n) {
    if constexpr (requires { n->count(); })
      return n ? say_number(n->count(), 4) : std::string{};
    else
      return n ? say_number(static_cast<double>(*n), 4) : std::string{};
  };
  const auto yes = [](const std::optional<bool>& b) { return !b ? "" : *b ? "true" : "false"; };
  const auto basis = [](const std::optional<record::Basis>& b) { return b ? std::string(record::name_of(*b)) : ""; };
  const std::vector<Option> of{{"base", "of the active"}, {"salt", "of its salt"}};
  Html main =
      form.field("name", "What you call it", {.value = p.name, .required = true}) +
      form.field("active", "Active ingredient",
                 {.value = p.active.value_or(""), .hint = "As on the label; several joined by +"}) +
      div("field-row", form.field("strength", "Strength on the label",
                                  {.value = p.strength.value_or(""), .hint = "e.g. 12 mg/ml, 30 mg/tablet, 222 mg/g"}) +
                           form.field("strength_again", "The strength once more, from the bottle",
                                      {.hint = known ? "Only when it changes" : "It must be the same"})) +
      form.field("dose", "The label's dose",
                 {.value = p.dose.value_or(""),
                  .hint = "e.g. 6 mg/kg, or 3 ml per 10 lb, or by weight: 1-2 kg: 1/2; 2.5-4 kg: 1"}) +
      form.choice("at_least", "Does the label say \"at least\"?", {{"true", "yes"}, {"false", "no"}}, yes(p.at_least)) +
      div("field-row",
          form.field("min_age_d", "Least age, days", {.value = number(p.min_age_d), .mode = "numeric"}) +
              form.field("min_kg", "Least weight, kg", {.value = number(p.min_kg), .mode = "decimal"}) +
              form.field("repeat_d", "Again after, days", {.value = number(p.repeat_d), .mode = "numeric"})) +
      div("field-row", form.field("mark_ml", "Liquid: ml between two marks of your syringe",
                                  {.value = number(p.mark_ml), .mode = "decimal"}) +
                           form.field("mark_g", "Powder: grams between two steps of your scale",
                                      {.value = number(p.mark_g), .mode = "decimal"})) +
      form.choice("parts", "Tablets: may be cut into", {{"1", "not cut"}, {"2", "halves"}, {"4", "quarters"}},
                  number(p.parts)) +
      form.field("lot", "Lot number", {.value = p.lot.value_or("")}) +
      div("field-row",
          form.field("expires", "Expires", {.value = p.expires ? to_iso(*p.expires) : "", .type = "date"}) +
              form.field("keeps_open_d", "Keeps once opened, days",
                         {.value = number(p.keeps_open_d), .hint = "Only where the label says so", .mode = "numeric"}) +
              form.field("opened", "This pack was opened on",
                         {.value = p.opened ? to_iso(*p.opened) : "", .type = "date"}));
  const Html more =
      div("field-row", form.field("days_in_row", "Days in a row", {.value = number(p.days_in_row), .mode = "numeric"}) +
                           form.field("at_most", "At most at once, ml, tablets or g",
                                      {.value = number(p.at_most), .mode = "decimal"})) +
      form.choice("strength_as", "The strength counts milligrams", of, basis(p.strength_as)) +
      form.choice("dose_as", "The dose counts milligrams", of, basis(p.dose_as)) +
      form.field("salt_per_base", "Salt that holds 1 of the active",
                 {.value = number(p.salt_per_base),
                  .hint = "Only where the label gives the salt, from its own two figures",
                  .mode = "decimal"}) +
      form.choice("for_dam", "Does the label allow it for a nursing bitch?", {{"true", "yes"}, {"false", "no"}},
                  yes(p.for_dam)) +
      form.choice("use", "What for", {{"wormer", "worms"}, {"other", "something else"}},
                  p.use ? std::string(record::name_of(*p.use)) : "wormer");
  const bool asked = view.problem && view.problem->code == "FORM_STRENGTH_ODD" && form.refused();
  if (asked)
    main += div("asked", form.choice("confirmed", "Read the bottle again. Does the strength stand as typed?",
                                     {{"true", "yes, it stands"}}));
  return form.finish(main + fold_away(text("More from the label"), div("stack", more), form.refused(), "small") +
                         Form::submit("Save the label", "button save"),
                     "stack");
}

/// A label that limits the days once opened, and nobody said since when this pack is open: no dose before that.
Html ask_opened(const View& view, const DosingRound& round) {
  if (!round.label || !round.label->opened_unknown) return {};
  Form form{view, "opened", "product", "", here(round), round.label_entry};
  return div(
      "asked",
      p("caution", text("When was this pack opened? By its label it keeps only so long then. A pack just opened: "
                        "today.")) +
          form.finish(
              div("field-row",
                  form.field("opened", "Opened on",
                             {.value = to_iso(view.litter.zone.day_of(view.now)), .type = "date", .required = true}) +
                      Form::submit("Save")),
              "stack"));
}

Html round_card(const View& view, const DosingRound& round) {
  Html body = h2(text(round.product)) + label_said(view, round);
  if (!round.label) {
    body += problem_box(round.label.error());
  } else if (round.label->strength_doubt && !round.label->confirmed) {
    body += problem_box({"LABEL_STRENGTH", *round.label->strength_doubt,
                         "take the bottle and read the strength again; then "
                         "correct the label, or say that it stands"});
    Form form{view, "stands", "product", "", here(round), round.label_entry};
    form.hidden("confirmed", "true");
    body += form.finish(Form::submit("I have read it again: it stands", "button quiet"));
  }
  if (round.label) {
    const auto& label = *round.label;
    if (label.at_least)
      body += p("", text("The label gives a least dose. Rounding down may fall short of it: both marks are shown."));
    if (!label.min_age) body += p("hint", text("The label's least age is not written down."));
    if (!label.min_weight) body += p("hint", text("The label's least weight is not written down."));
  }
  body += ask_opened(view, round) + cautions();
  Html rows;
  std::size_t given = 0;
  for (const auto& dog : round.dogs) {
    rows += row(view, round, dog);
    if (!dog.given.empty()) ++given;
  }
  if (round.dogs.empty()) {
    body += p("", text("No pup in the box yet."));
  } else {
    Html words = text(std::to_string(given) + " of " + std::to_string(round.dogs.size()) + " given today");
    if (round.together) words += text("; still to give, all together " + care::say(*round.together));
    body += p("progress-words", words) + element("ul", {{"class", "dog-doses"}}, rows);
  }
  return element("section", {{"class", "card dosing"}}, body);
}

/// Nobody buys hundredths: up to the next whole ml, tablet or gram.
care::Portion whole(care::Portion p) { return {p.in, std::ceil(p.count)}; }

Html to_buy(const View& view, const DosingRound& round) {
  if (!round.label) return {};
  Html body;
  if (round.course)
    body += p("", text("To 12 weeks, " + std::to_string(round.treatments) + " treatments at the label's interval, " +
                       std::to_string(round.course->doses) + " doses: about ") +
                      element("b", {}, text(care::say(whole(round.course->likely)))) + text(", and ") +
                      element("b", {}, text(care::say(whole(round.course->heavy)))) + text(" if all grow fast.")) +
            p("hint",
              text("From each pup's own pace, which says little of weeks ahead. It is for buying; the dose is worked "
                   "out on the day. Spilt and spat-out doses come on top."));
  // Written down once, it falls with each dose ticked: the item of Supplies bears the product's name.
  const auto in = round.label->strength.per;
  const std::string unit = in == Measured::ml ? "ml" : in == Measured::tablets ? "tablets" : "g";
  const auto& lines = view.assessment.supplies.lines;
  const auto line = std::find_if(lines.begin(), lines.end(), [&](const auto& l) { return l.item == round.product; });
  if (line != lines.end() && line->spoken_of) {
    std::string said = "In the house: " + (line->present() ? supplies::say(line->have, line->unit) : "none");
    if (round.course && line->unit == unit && line->have.count() < std::ceil(round.course->heavy.count))
      said += line->have.count() < std::ceil(round.course->likely.count) ? ", too little for the course"
                                                                         : ", enough unless all grow fast";
    body +=
        p("", text(said + ". It falls with each dose ticked. ") +
                  link(litter_href(view.litter, "supplies?item=" + percent_encode(line->item)), text("More about it")));
  }
  Form form{view, "bottle", "stock", "", here(round)};
  form.hidden("item", round.product);
  form.hidden("unit", unit);
  form.hidden("where", "house");
  body +=
      form.finish(div("field-row", form.field("have", "There is now, " + unit, {.mode = "decimal", .required = true}) +
                                       Form::submit("Write down", "button quiet")),
                  "stack");
  return element("section", {{"class", "card"}}, h2(text("To have in the house")) + body);
}

}  // namespace

std::string dosing_page(const View& view, const std::string& product) {
  const auto& rounds = view.assessment.dosing;
  auto round = std::find_if(rounds.begin(), rounds.end(), [&](const auto& r) { return r.product == product; });
  if (round == rounds.end()) round = rounds.begin();
  Html main, others;
  for (const auto& r : rounds)
    if (rounds.size() > 1) {
      Attributes attributes{{"href", litter_href(view.litter, here(r))}, {"class", "button quiet"}};
      if (r.product == round->product) attributes.emplace_back("aria-current", "true");
      others += element("a", attributes, text(r.product));
    }
  if (!others.empty()) main += element("nav", {{"class", "ends"}, {"aria-label", "Products"}}, others);
  if (round == rounds.end()) {
    main += element(
        "section", {{"class", "card"}},
        h2(text("No label yet")) +
            p("", text("Type in what the label of the product says. Nothing is filled in for you, and without the "
                       "label's strength there is no dose.")) +
            cautions() + label_form(view, nullptr));
  } else {
    main += live("round", round_card(view, *round));
    main += live("to-buy", to_buy(view, *round));
    const auto paper = [&](const char* size) {
      return litter_href(view.litter, std::string("paper/dosing-round.pdf?size=") + size);
    };
    main += div("ends", link(paper("a4"), text("Take it to the box on paper, A4"), "button quiet") +
                            link(paper("letter"), text("US Letter"), "button quiet"));
    const bool correcting = view.problem && view.typed.contains("kind") && view.typed.at("kind") == "product";
    const bool fresh = correcting && !view.typed.contains("corrects");
    main += div("panels", fold_away(text("The label of " + round->product), label_form(view, &*round),
                                    correcting && !fresh, "panel") +
                              fold_away(text("Another product"), label_form(view, nullptr), fresh, "panel"));
  }
  main += live("urgent", urgent_findings(view, false));
  return page_of(view, {.title = "Dosing round", .screen = "dosing", .back = round == rounds.end() ? "" : here(*round)},
                 main);
}

}  // namespace lampside::page
