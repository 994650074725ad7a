// The suggestion of pairs with its reasons, and the behaviour test that it leans on.
#include "homes/match.hpp"

#include "page/homes.hpp"

namespace lampside::page {
namespace {

Html cautions() {
  return p("caution", text("One test does not fix an adult's temper: what the pup meets in the next months counts as "
                           "much. Day 49 is "
                           "contested: some breeders test from day 42 to 56, and one author argues against placing at "
                           "seven weeks.")) +
         source_line(reference::built_in().behaviour_checks.front().source);
}

Html suggestion(const View& view) {
  const auto match = homes::match(view.litter, view.assessment.homes, reference::built_in());
  Html rows;
  for (const auto& pair : match.pairs) {
    Html reasons;
    for (const auto& r : pair.fit.reasons) reasons += element("li", {}, text(r));
    rows +=
        element("li", {{"class", "pair"}},
                link(family_href(view, pair.family), text(sentence(say_family(view, pair.family)))) + text(" and ") +
                    pup_link(view, *view.litter.pup(pair.pup)) + element("ul", {{"class", "hint"}}, reasons));
  }
  std::string later;
  for (const auto& f : match.later) later += (later.empty() ? "" : ", ") + say_family(view, f);
  return element(
      "section", {{"class", "card"}},
      h2(text("Wishes against pups")) +
          p("hint", text("A suggestion only: the pairs that fit best all together, by sex, colour and behaviour test. "
                         "It takes no pup, and it knows only what is written down.")) +
          (rows.empty() ? p("", text("Nobody waits, or no pup is free.")) : element("ul", {{"class", "pairs"}}, rows)) +
          (later.empty() ? Html{} : p("caution", text("No pup is left for: " + later + "."))));
}

Html tests(const View& view) {
  Html rows;
  for (const auto& pup : view.litter.pups) {
    if (!pup.in_box()) continue;
    std::string said = "no test yet";
    if (!pup.behaviour_tests.empty()) {
      said.clear();
      for (const auto& [name, score] : homes::scores(pup.behaviour_tests.back().what))
        said += (said.empty() ? "" : ", ") + std::string(name) + " " + std::to_string(score);
    }
    rows += element("li", {},
                    link(litter_href(view.litter, "homes?test=" + percent_encode(pup.label)), text(say_pup(pup))) +
                        p("hint", text(said)));
  }
  return element("section", {{"class", "card"}}, h2(text("Behaviour tests")) + element("ul", {}, rows) + cautions());
}

}  // namespace

std::string match_page(const View& view) {
  return page_of(view, {.title = "Matching", .screen = "homes", .back = "homes?match=1"},
                 suggestion(view) + tests(view) +
                     div("ends", link(litter_href(view.litter, "homes"), text("To all families"), "button quiet")));
}

std::string test_page(const View& view, const record::Pup& pup) {
  const std::string here = "homes?test=" + percent_encode(pup.label);
  Form form{view, "behaviour", "behaviour_test", pup.label, here};
  Html fields;
  std::vector<Option> marks;
  for (int n = 1; n <= 6; ++n) marks.push_back({std::to_string(n), std::to_string(n)});
  const auto last = pup.behaviour_tests.empty() ? std::vector<std::pair<std::string_view, int>>{}
                                                : homes::scores(pup.behaviour_tests.back().what);
  std::size_t n = 0;
  for (const auto& check : reference::built_in().behaviour_checks) {
    const std::string was = n < last.size() ? std::to_string(last[n].second) : "";
    ++n;
    fields += p("", text(std::to_string(n) + ". " + std::string(check.asks))) +
              p("hint", text("1: " + std::string(check.one) + ". 6: " + std::string(check.six) + ".")) +
              form.choice(std::string(check.name), check.title, marks, was, true, "marks");
  }
  const auto age = std::chrono::duration_cast<std::chrono::hours>(view.now - pup.birth.at).count() / 24;
  const Html main =
      element("section", {{"class", "card"}},
              p("", text("Ten sub-tests, each 1 to 6, never averaged. One pup at a time, in a strange room, by a "
                         "stranger, on day 49. "
                         "Today is its day " +
                         std::to_string(age) + ".")) +
                  cautions()) +
      element("section", {{"class", "card"}},
              form.finish(fields + form.when_folded() + Form::submit("Save", "button save"), "stack")) +
      div("ends", link(litter_href(view.litter, "homes?match=1"), text("To the matching"), "button quiet"));
  return page_of(view, {.title = "Behaviour test: " + say_pup(pup), .screen = "homes", .back = here}, main);
}

}  // namespace lampside::page
