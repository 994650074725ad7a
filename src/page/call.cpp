// Call: what to say to the vet, with the number to dial at the top.
#include "advice/call.hpp"

#include "page/parts.hpp"

namespace lampside::page {
namespace {

Html list_of(const std::vector<std::string>& lines) {
  Html items;
  for (const auto& line : lines) items += element("li", {}, text(sentence(line)));
  return element("ul", {{"class", "say"}}, items);
}
Html say_part(std::string_view title, const Html& body) {
  return element("section", {{"class", "card"}}, h2(text(title)) + body);
}

}  // namespace

std::string call_page(const View& view) {
  const auto sheet = advice::call_sheet(view.litter, view.assessment);
  Html say = say_part("Who", p("big", text(sheet.who)));
  say += say_part("What, and since when",
                  sheet.what.empty() ? p("", text("Nothing on record asks for a call.")) : list_of(sheet.what));
  say += say_part("How it stands", p("", text(sentence(sheet.state))));
  say += say_part("What was done", sheet.done.empty() ? p("", text("Nothing is written down.")) : list_of(sheet.done));
  say += say_part("What you ask", p("big", text(sheet.asked)) + p("", text(sentence(sheet.drive))));
  Html rows;
  for (auto it = sheet.timeline.rbegin(); it != sheet.timeline.rend(); ++it)
    rows += element("li", {}, time_of(view, it->at) + span("", text(" " + it->says)));
  if (rows.empty()) rows = element("li", {}, text("Nothing is written down."));
  say += say_part("The night so far", element("ol", {{"class", "entries story"}}, rows));
  Html main = live("urgent", vet_call(view)) + live("say", div("cards", say));
  main += div("ends", link(litter_href(view.litter, "paper/call-sheet.pdf?size=a4"), text("As a PDF"), "button") +
                          link(litter_href(view.litter, "paper/call-sheet.pdf?size=letter"), text("US Letter"),
                               "button quiet"));
  main += fold_away(text("As text, to send"),
                    element("pre", {{"class", "call-text"}}, text(advice::call_text(sheet, view.litter, view.now))),
                    false, "panel");
  main +=
      p("caution", text("Do until you have spoken: keep her quiet and warm, note the times. No oxytocin and no calcium "
                        "on your own. Do not pull a pup against resistance. Do not swing a pup."));
  return page_of(view, {.title = "Call the vet", .screen = "call", .back = ""}, main);
}

}  // namespace lampside::page
