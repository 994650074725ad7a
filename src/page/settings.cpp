// Settings of the litter: what the other screens need to know of the dam, the units, the vet.
#include "page/pups.hpp"

namespace lampside::page {
namespace {

std::vector<std::string> breeds() {
  std::vector<std::string> out;
  for (const auto& row : reference::built_in().birth_weights) out.emplace_back(row.breed);
  return out;
}

}  // namespace

std::string settings_page(const View& view) {
  const auto& facts = view.litter.facts;
  const record::Parent dam = facts.dam.value_or(record::Parent{});
  const record::Parent sire = facts.sire.value_or(record::Parent{});
  const record::Vet vet = facts.vet.value_or(record::Vet{});
  const Units units = view.litter.units();
  Form form{"settings", litter_href(view.litter, "settings"), view.token, fresh_id(view),
            view.problem ? &view.typed : nullptr};

  const Html who =
      h2(text("The dam and the sire")) + form.field("dam_name", "Her name", {.value = dam.name.value_or("")}) +
      form.field("breed", "Breed",
                 {.value = dam.breed.value_or(""),
                  .hint = "Birth weights are judged by breed where there is a table for it",
                  .suggestions = breeds()}) +
      div("field-row", form.field("dam_kg", "Her weight before mating, kg",
                                  {.value = dam.kg ? say_number(dam.kg->count(), 1) : "", .mode = "decimal"}) +
                           form.field("parity", "Litters before this",
                                      {.value = dam.parity ? std::to_string(*dam.parity) : "", .mode = "numeric"})) +
      form.field("dam_born", "Born", {.value = dam.born ? to_iso(*dam.born) : "", .type = "date"}) +
      form.field("sire_name", "Sire's name", {.value = sire.name.value_or("")});
  const Html the_vet =
      h2(text("Your vet")) +
      form.field("vet_phone", "Telephone", {.value = vet.phone.value_or(""), .type = "tel", .mode = "tel"}) +
      form.field("vet_night_phone", "At night and on holidays",
                 {.value = vet.night_phone.value_or(""), .type = "tel", .mode = "tel"}) +
      form.field("vet_minutes", "Minutes away by car",
                 {.value = vet.minutes_away ? std::to_string(*vet.minutes_away) : "", .mode = "numeric"});
  const Html reading =
      h2(text("Units, scale and place")) +
      form.choice("weight_unit", "Pups are weighed in", {{"g", "grams"}, {"oz", "ounces"}},
                  std::string(record::name_of(units.weight))) +
      form.choice("temperature_unit", "Temperatures in", {{"C", "°C"}, {"F", "°F"}},
                  std::string(record::name_of(units.temperature))) +
      form.field("scale", "The scale's smallest step",
                 {.value = facts.scale_g ? say_number(facts.scale_g->count(), 2) + " g" : "",
                  .hint = "1 g, 2 g, 1/8 oz: printed on the scale",
                  .mode = "decimal"}) +
      form.field(
          "zone", "Time zone",
          {.value = facts.zone.value_or(view.litter.zone.name()), .hint = "Like Europe/Berlin or America/Chicago"}) +
      form.field("place", "Country",
                 {.value = facts.place.value_or(""), .hint = "Two letters, like DE or GB; GB-ENG for a part"});
  const Html main =
      form.finish(element("section", {{"class", "card"}}, the_vet) + element("section", {{"class", "card"}}, who) +
                      element("section", {{"class", "card"}}, reading) + Form::submit("Save", "button save"),
                  "stack") +
      element("section", {{"class", "card"}},
              h2(text("Room sensors")) + p("", text("Which topic lies where stands on Nest.")) +
                  link(litter_href(view.litter, "nest") + "#sensors", text("Room sensors"), "button quiet"));
  return page_of(view, {.title = "Settings", .screen = "settings", .back = ""}, main);
}

std::string start_page(const StartView& view) {
  Html main = element("h1", {}, text("Lampside"));
  main +=
      p("lead",
        text("What you keep beside the whelping box: when she is due, the night itself, the weights of every day."));
  if (view.problem) main += problem_box(*view.problem);
  if (!view.litters.empty()) {
    Html items;
    for (const auto& litter : view.litters)
      items += element("li", {}, link("/l/" + percent_encode(litter) + "/now", text(litter), "button"));
    main += element("section", {{"class", "card"}},
                    h2(text("Your litters")) + element("ul", {{"class", "litters"}}, items));
  }
  Form form{"start", "/start", view.token, view.new_id, view.problem ? &view.typed : nullptr};
  Html fields = form.field("dam_name", "Name of the dam", {.required = true}) +
                form.field("breed", "Breed", {.suggestions = breeds()}) +
                form.field("mating_date", "Day of the (first) mating",
                           {.hint = "Empty if you do not know it. Tests can be added after.", .type = "date"});
  fields += fold_away(
      text("More, now or later"),
      form.choice("weight_unit", "Pups are weighed in", {{"g", "grams"}, {"oz", "ounces"}}, "g") +
          form.choice("temperature_unit", "Temperatures in", {{"C", "°C"}, {"F", "°F"}}, "C") +
          form.field("pups", "Pups counted on the X-ray", {.mode = "numeric"}) +
          form.field("vet_phone", "Your vet's telephone", {.type = "tel", .mode = "tel"}) +
          form.field("zone", "Time zone", {.value = view.zone_guess}) +
          form.field("litter", "Short name of the litter", {.hint = "Empty: made from her name and the year"}),
      form.refused(), "panel");
  fields += Form::submit("Save and see when she is due", "button save");
  main +=
      element("section", {{"class", "card"}},
              h2(text(view.litters.empty() ? "The first litter" : "Another litter")) + form.finish(fields, "stack"));
  return bare_page("Lampside", main);
}

std::string problem_page(int status, const Problem& problem) {
  const Html main = element("h1", {},
                            text(status == 404   ? "Not here"
                                 : status >= 500 ? "Something broke"
                                                 : "That did not work")) +
                    problem_box(problem) + p("", link("/", text("To the start"), "button")) +
                    p("hint", text("Status " + std::to_string(status)));
  return bare_page("Lampside: " + problem.what, main);
}

}  // namespace lampside::page
