// Care: what is to be done today, by whose rule; what comes; the keeper's own choices are in care_choices.cpp.
#include <algorithm>

#include "page/care.hpp"
#include "page/parts.hpp"

namespace lampside::page {
namespace {

using care::Group;
using care::Item;
using care::State;

constexpr std::chrono::days kAhead{14};

/// "today", "tomorrow", "Mon 2 Mar".
std::string say_near(const View& view, CivilDay day) {
  const auto away = (day - view.assessment.care.today).count();
  if (away == 0) return "today";
  if (away == 1) return "tomorrow";
  if (away == -1) return "yesterday";
  return say_day(day);
}

std::string say_window(const View& view, const Item& item) {
  if (item.state == State::overdue) return "the last day was " + say_near(view, item.closes);
  if (item.state == State::last_day) return "today is the last day";
  if (item.state == State::later && item.until) return "put off to " + say_near(view, *item.until);
  const bool best_ahead = item.best > view.assessment.care.today;
  if (item.state == State::open)
    return (best_ahead ? "best " + say_near(view, item.best) + ", " : std::string{}) + "until " +
           say_near(view, item.closes);
  std::string out = "best " + say_near(view, item.best);
  if (item.opens < item.best) out = "from " + say_near(view, item.opens) + ", " + out;
  if (item.closes > item.best) out += ", until " + say_near(view, item.closes);
  return out;
}

Html why_of(const Item& item) {
  if (!item.row) return {};
  Html out = p("", text(item.row->why));
  if (!item.row->others.empty())
    out += p("conflict", element("b", {}, text("Other sources: ")) + text(item.row->others));
  return fold_away(text("Why, and who says so"), out + source_line(item.row->source), false, "small");
}

std::string name_of(const Item& item) {
  std::string out = item.task + "-" + item.about;
  for (char& c : out)
    if (!((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9'))) c = '-';
  return out;
}

/// The form that ticks a task: for pups a box each, all ticked, so that only exceptions need a hand.
Html tick_form(const View& view, const Group& group, const std::string& back = "care") {
  const Item& item = group.first();
  const std::string name = "tick-" + name_of(item);
  const auto held = view.typed.find("form");
  const bool refused = view.problem && held != view.typed.end() && held->second == name;
  Form form{name, litter_href(view.litter, "tick"), view.token, fresh_id(view), refused ? &view.typed : nullptr};
  form.hidden("back", back);
  form.hidden("form", name);
  Html boxes;
  for (std::size_t i = 0; i < group.items.size(); ++i) {
    const auto n = std::to_string(i);
    form.hidden("task-" + n, group.items[i]->task);
    form.hidden("about-" + n, group.items[i]->about);
    if (i > 0) form.hidden("id-" + n, fresh_id(view));
    const auto* pup = view.litter.pup(group.items[i]->about);
    if (pup == nullptr || group.items.size() == 1) {
      form.hidden("on-" + n, "true");
      continue;
    }
    std::string id = name;
    id.append("-on-").append(n);
    Attributes box{{"type", "checkbox"}, {"id", id}, {"name", "on-" + n}, {"value", "true"}};
    if (!refused || view.typed.count("on-" + n) != 0) box.emplace_back("checked", kBare);
    boxes += div("pill", element("input", box) + element("label", {{"for", id}}, pup_name(*pup)));
  }
  if (!boxes.empty())
    boxes = element("fieldset", {{"class", "choice"}},
                    element("legend", {}, text("Done for (take out the exceptions)")) + div("pills", boxes));
  Html anyway;
  if (refused && view.problem->code == "CARE_TOO_EARLY") {
    const std::string id = name + "-anyway";
    anyway = div("pill", element("input", {{"type", "checkbox"}, {"id", id}, {"name", "anyway"}, {"value", "true"}}) +
                             element("label", {{"for", id}}, text("It was done that early all the same")));
  }
  const bool one = boxes.empty();
  const bool vaccine = item.row && (item.task.starts_with("vaccine") || item.task.starts_with("rabies") ||
                                    item.task.starts_with("lepto"));
  if (vaccine)
    boxes += form.field("note", "Vaccine and lot", {.hint = "From its sticker: it is printed in each pup's folder"});
  const std::string says = one ? "Done" : "Done for those ticked";
  return form.finish(boxes + anyway + Form::submit(says, "button") + form.when_folded(), "stack");
}

/// Put off, move, drop: each with a reason.
Html edit_forms(const View& view, const Group& group, const std::string& back = "care") {
  const Item& item = group.first();
  if (item.row && item.row->anchor == "procedure") return {};
  const bool one = group.items.size() == 1;
  const std::string about = one ? item.about : "";
  Form later{view, "later-" + name_of(item), "later", about, back};
  later.hidden("task", item.task);
  Html out = later.finish(
      div("field-row",
          later.field(
              "until", "Put off to",
              {.value = to_iso(view.assessment.care.today + std::chrono::days{1}), .type = "date", .required = true}) +
              later.field("why", "Why", {.required = true}) + Form::submit("Put off", "button quiet")),
      "stack");
  Form move{view, "move-" + name_of(item), "care_edit", about, back};
  move.hidden("task", item.task);
  out += move.finish(
      div("field-row",
          move.field("shift_d", "Move by days", {.hint = "-1 is a day earlier", .mode = "numeric", .required = true}) +
              move.field("why", "Why", {.required = true}) + Form::submit("Move", "button quiet")),
      "stack");
  Form drop{view, "drop-" + name_of(item), "care_edit", about, back};
  drop.hidden("task", item.task);
  drop.hidden("drop", "true");
  out += drop.finish(div("field-row", drop.field("why", "Why it is not done at all", {.required = true}) +
                                          Form::submit("Drop it", "button quiet")),
                     "stack");
  return fold_away(text("Put off, move or drop") + span("unseen", text(": " + item.what)), out, false, "small");
}

Html task_card(const View& view, const Group& group) {
  const Item& item = group.first();
  const std::string cls = item.state == State::open ? "watch" : "act";
  static constexpr auto word = [](State s) {
    return s == State::overdue ? "Overdue" : s == State::last_day ? "Last day" : "May be done";
  };
  Html body = div("card-head", span("level", text(word(item.state))) + span("at", text(say_window(view, item))));
  body += element("h3", {}, text(care::say_group(view.litter, group)));
  if (!item.why.empty()) body += p("hint", text("Moved: " + item.why));
  body += tick_form(view, group) + edit_forms(view, group) + why_of(item);
  return element("article", {{"class", "card finding task level-" + cls}}, body);
}

/// A line of what comes, opening on its forms and its reason.
Html task_line(const View& view, const Group& group, bool with_forms) {
  const Item& item = group.first();
  Html head = span("headline", text(care::say_group(view.litter, group))) + span("at", text(say_window(view, item)));
  if (item.expected) head += span("at", text("moves with the due date"));
  Html inside;
  if (!item.why.empty()) inside += p("hint", text((item.state == State::later ? "Put off: " : "Moved: ") + item.why));
  if (with_forms && item.ticked()) inside += tick_form(view, group) + edit_forms(view, group);
  if (item.row)
    inside +=
        p("", text(item.row->why)) +
        (item.row->others.empty() ? Html{}
                                  : p("conflict", element("b", {}, text("Other sources: ")) + text(item.row->others))) +
        source_line(item.row->source);
  return fold_away(head, inside, false, "panel");
}

Html lines(const View& view, const std::vector<Group>& groups, bool with_forms) {
  Html out;
  for (const auto& group : groups) out += task_line(view, group, with_forms);
  return out.empty() ? out : div("panels", out);
}

bool is_mark(const Item& i) { return i.row && i.row->kind == "mark"; }

Html running(const View& view) {
  auto groups = care::grouped(view.assessment.care,
                              [](const Item& i) { return !i.ticked() && !is_mark(i) && i.state == State::open; });
  const Html out = lines(view, groups, false);
  return out.empty() ? out : h2(text("These days")) + out;
}

/// Milestones whose days have come: seen or not yet.
Html milestones(const View& view) {
  const auto groups =
      care::grouped(view.assessment.care, [](const Item& i) { return is_mark(i) && i.state == State::open; });
  Html out;
  for (const auto& group : groups) {
    const Item& item = group.first();
    out += fold_away(span("headline", text(care::say_group(view.litter, group))) +
                         span("at", text("usual " + say_day(item.opens) + " to " + say_day(item.closes))),
                     p("", text(item.row->why)) + tick_form(view, group) +
                         (item.row->others.empty() ? Html{} : p("conflict", text(item.row->others))) +
                         source_line(item.row->source),
                     false, "panel");
  }
  return out.empty() ? out : h2(text("Watch for")) + div("panels", out);
}

/// The whole plan by weeks of the pups' age (or to the due date).
Html whole(const View& view) {
  const auto& plan = view.assessment.care;
  const auto groups = care::grouped(plan, [](const Item& i) {
    return i.state != State::done && i.state != State::missed && i.state != State::dropped;
  });
  Html out, rows;
  long week = -1000;
  const auto close = [&] {
    if (rows.empty()) return;
    const std::string name = week < 0 ? std::to_string(-week) + (week == -1 ? " week before" : " weeks before")
                                      : "Week " + std::to_string(week + 1);
    out += element("h3", {}, text(name)) + element("ul", {{"class", "entries"}}, rows);
    rows = {};
  };
  for (const auto& group : groups) {
    const Item& item = group.first();
    const long days = plan.day0 ? (item.best - *plan.day0).count() : 0;
    const long w = days >= 0 ? days / 7 : -((6 - days) / 7);
    if (w != week) close();
    week = w;
    rows += element("li", {},
                    span("words", text(care::say_group(view.litter, group))) +
                        span("at", text(say_day(item.best) + (item.state == State::family ? ", for the family" : ""))));
  }
  close();
  return fold_away(text("The whole plan, week by week"), out, false, "panel");
}

Html past(const View& view) {
  Html rows;
  const auto& items = view.assessment.care.items;
  for (auto it = items.rbegin(); it != items.rend(); ++it) {
    if (it->state != State::done && it->state != State::dropped) continue;
    std::string said = it->what;
    if (it->round > 1 && it->row && it->row->anchor != "procedure")
      said += " (round " + std::to_string(it->round) + ")";
    if (!it->about.empty()) said += ": " + say_about(view.litter, it->about);
    said += it->done ? ", " + say_day(*it->done) : ", dropped: " + it->why;
    Html tail;
    if (!it->done_by.empty())
      tail = change_row(said, strike_button(view, it->done_by, "care", "Not done after all", said));
    rows += element(
        "li", {}, span("words", text(said)) + (it->too_early ? span("change lost", text("too early")) : Html{}) + tail);
  }
  if (rows.empty()) return {};
  return fold_away(text("Done and dropped"), element("ul", {{"class", "entries"}}, rows), false, "panel");
}

}  // namespace

Html care_actions(const View& view, State state) {
  Html out;
  for (const auto& group : care::grouped(
           view.assessment.care, [](const Item& i) { return i.ticked() && i.due() && !(i.row && i.row->quiet); }))
    if (group.first().state == state)
      out += element("h4", {}, text(care::say_group(view.litter, group))) + tick_form(view, group, "now") +
             edit_forms(view, group, "now");
  return out;
}

std::string care_page(const View& view) {
  const auto& plan = view.assessment.care;
  Html today;
  for (const auto state : {State::overdue, State::last_day, State::open})
    for (const auto& group : care::grouped(plan, [](const Item& i) { return i.ticked() && i.due(); }))
      if (group.first().state == state) today += task_card(view, group);
  if (today.empty())
    today = p(
        "", text(plan.items.empty() ? "No mating, no test and no birth is written down: there is nothing to count from."
                                    : "Nothing in the plan asks for a hand today."));

  auto ahead = care::grouped(
      plan, [](const Item& i) { return i.ticked() && (i.state == State::waiting || i.state == State::later); });
  std::erase_if(ahead, [&](const Group& g) { return g.first().until.value_or(g.first().opens) > plan.today + kAhead; });

  Html main = p("hint", text("Your vet's word and your law come first. Each task says whose rule it is and what others "
                             "say; change what does not fit."));
  main += live("today", h2(text("Today")) + div("cards", today));
  main += live("running", running(view) + milestones(view));
  if (!ahead.empty()) main += h2(text("The next two weeks")) + lines(view, ahead, true);
  main += div("panels", own_task(view) + wound_forms(view) + chip_form(view) + choices(view) + law_here(view) +
                            whole(view) + past(view) + calendar_links(view));
  main += div("ends", link(litter_href(view.litter, "dosing"), text("Dosing round"), "button quiet") +
                          link(litter_href(view.litter, "records"), text("Records the law asks for"), "button quiet"));
  return page_of(view, {.title = "Care", .screen = "care", .back = ""}, main);
}

}  // namespace lampside::page
