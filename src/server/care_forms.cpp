// Ticks of the plan of care: one form, many animals.
#include "server/forms.hpp"

#include <algorithm>

namespace lampside::server {

Result<std::vector<record::Entry>> tick_from(const Fields& form, const Known& known, const care::Plan& plan) {
  std::vector<record::Entry> out;
  auto at = known.litter.zone.stamp(known.now);
  for (const auto* name : {"at", "tapped"})
    if (const auto text = typed(form, name); !text.empty()) {
      const auto given = parse_wall(text, known.litter.zone, known.now);
      if (!given) return tl::unexpected(given.error());
      at = *given;
      break;
    }
  const CivilDay day = known.litter.zone.day_of(at.instant);
  for (std::size_t i = 0; i < 40; ++i) {
    const auto n = std::to_string(i);
    const auto task = typed(form, "task-" + n), about = typed(form, "about-" + n);
    if (task.empty()) break;
    if (typed(form, "on-" + n) != "true") continue;
    const auto id = typed(form, i == 0 ? "id" : "id-" + n);
    if (const auto* already = known.find(id)) {
      out.push_back(*already);  // tapped twice
      continue;
    }
    const auto item = std::find_if(plan.items.begin(), plan.items.end(),
                                   [&](const care::Item& it) { return it.task == task && it.about == about; });
    if (item == plan.items.end())
      return problem("FORM_TASK", "this task is not in the plan any more",
                     "open Care again and look at the plan as it is now");
    if (item->done) continue;  // another phone was quicker
    if (item->row && item->row->hard && day < item->opens && typed(form, "anyway") != "true")
      return problem(
          "CARE_TOO_EARLY",
          item->what + ": " + say_day(day) + " is before " + say_day(item->opens) + ", the first day it counts from",
          "wait for that day; if it was really done that early, say so below and ask your vet whether it counts");
    auto entry = record::make_entry(id, known.litter.key, at, known.litter.zone.stamp(known.now), known.by, about,
                                    record::Done{task});
    entry.note = typed(form, "note");
    if (const auto ok = record::check(entry); !ok) return tl::unexpected(ok.error());
    out.push_back(std::move(entry));
  }
  if (out.empty() && typed(form, "task-0").empty())
    return problem("FORM_TASK", "the form names no task", "go back and open the page again");
  if (out.empty())
    return problem("FORM_TASK", "nobody is ticked", "tick those it was done for; to put it off, say so below the task");
  return out;
}

}  // namespace lampside::server
