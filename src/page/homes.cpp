// Homes: whose turn it is, the families in order; matching, money and a family's own page stand behind it.
#include "page/homes.hpp"

#include "homes/keep.hpp"

namespace lampside::page {
namespace {

/// Data kept past their day, at the top: the keeper erases, never the program by itself.
Html past_their_day(const View& view) {
  Html rows;
  for (const auto& person : view.people) {
    const auto keep = homes::keep_until(person, view.litter, view.assessment.homes, reference::built_in(), view.now);
    if (keep.until && *keep.until < view.litter.zone.day_of(view.now))
      rows += element("li", {},
                      link(family_href(view, person.family), text(sentence(say_family(view, person.family)))) +
                          text(": was to be kept until " + say_day(*keep.until)));
  }
  if (rows.empty()) return {};
  return element("section", {{"class", "card"}}, h2(text("Kept longer than the rule says")) + element("ul", {}, rows));
}

Html ways(const View& view) {
  return div("ends",
             link(litter_href(view.litter, "homes?family=new"), text("Add a family"), "button") +
                 link(litter_href(view.litter, "homes?match=1"), text("Matching and behaviour tests"), "button quiet") +
                 link(litter_href(view.litter, "homes?money=1"), text("Money"), "button quiet") +
                 link(litter_href(view.litter, "look-back"), text("Looking back"), "button quiet"));
}

}  // namespace

std::string homes_page(const View& view) {
  const auto asked = [&](const char* name) {
    const auto found = view.query.find(name);
    return found == view.query.end() ? std::string{} : found->second;
  };
  if (const auto family = asked("family"); !family.empty())
    return family == "new" ? new_family_page(view) : family_page(view, family);
  if (!asked("money").empty()) return money_page(view);
  if (!asked("match").empty()) return match_page(view);
  if (const auto* pup = view.litter.pup(asked("test"))) return test_page(view, *pup);
  return page_of(view, {.title = "Homes", .screen = "homes", .back = ""},
                 past_their_day(view) + turn_card(view) + ways(view) + families_card(view));
}

}  // namespace lampside::page
