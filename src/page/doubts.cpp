// Weights that cannot be right: one plain question each, with the corrected figures ready. The keeper decides.
#include <fmt/format.h>

#include <algorithm>

#include "page/pups.hpp"

namespace lampside::page {
namespace {

Html figures(const View& view, const growth::Doubt& doubt) {
  const auto unit = view.litter.units().weight;
  Html rows;
  for (std::size_t i = 0; i < doubt.labels.size(); ++i) {
    const auto* pup = view.litter.pup(doubt.labels[i]);
    if (pup == nullptr) continue;
    Html says;
    for (const auto& w : pup->weights)
      if (w.id == doubt.entries[i]) says += element("s", {}, text(say(w.what.grams, unit)));
    if (doubt.would_be[i])
      says += text(" → ") + element("b", {}, text(say(*doubt.would_be[i], unit)));
    else
      says += text(" → weigh again");
    rows += element("li", {}, pup_link(view, *pup) + span("would-be", says));
  }
  return element("ul", {{"class", "doubt-figures"}}, rows);
}

Html answer(const View& view, const growth::Doubt& doubt, bool right, std::string_view back, std::string_view label,
            std::string_view cls) {
  Form form{"", litter_href(view.litter, "answer"), view.token, fresh_id(view), nullptr};
  form.hidden("back", std::string(back));
  form.hidden("answer", right ? "right" : std::string(doubt.likelier));
  for (std::size_t i = 0; i < doubt.entries.size(); ++i) {
    const auto n = std::to_string(i);
    if (i > 0) form.hidden("id-" + n, fresh_id(view));
    form.hidden("entry-" + n, doubt.entries[i]);
    if (!right) form.hidden("grams-" + n, fmt::format("{:.3f}", doubt.would_be[i]->count()));
  }
  return form.finish(Form::submit(label, cls), "tap");
}

Html doubt_card(const View& view, const growth::Doubt& doubt, std::string_view back) {
  bool known = true;
  for (const auto& g : doubt.would_be) known = known && g.has_value();
  const bool several = doubt.entries.size() > 1;
  Html body = element("h2", {}, text(growth::question(doubt)));
  body += p("because", text("Weighed ") + time_of(view, doubt.at) +
                           text(several ? ". Written down like this they do not fit the litter:"
                                        : ". Written down like this it does not fit this pup:"));
  body += figures(view, doubt);
  Html ends;
  if (known) ends += answer(view, doubt, false, back, several ? "Yes, correct them" : "Yes, correct it", "button");
  ends += answer(view, doubt, true, back, several ? "No, they are right" : "No, it is right", "button quiet");
  ends += link(litter_href(view.litter, "weigh-in?turn=" + percent_encode(doubt.open.empty() ? doubt.labels.front()
                                                                                             : doubt.open.front())),
               text("Weigh again"), "button quiet");
  body += div("ends", ends);
  body += p("hint",
            text("What was first written stays in the log. A dull or cold pup needs a hand whatever the scale says."));
  return element("section", {{"class", "card doubt"}, {"aria-label", "Is this weight right?"}}, body);
}

}  // namespace

Html doubts_asked(const View& view, std::string_view label, std::string_view back) {
  Html out;
  for (const auto& doubt : view.assessment.doubts) {
    const bool about =
        label.empty() || std::find(doubt.labels.begin(), doubt.labels.end(), label) != doubt.labels.end();
    if (doubt.asked && about) out += doubt_card(view, doubt, back);
  }
  return out;
}

}  // namespace lampside::page
