// Log: the whole story, newest first. What was struck out stays, drawn through.
#include <algorithm>
#include <set>

#include "page/parts.hpp"
#include "page/pups.hpp"

namespace lampside::page {
namespace {

/// A page of the log is whole days; it ends after the day on which this many entries are reached.
constexpr std::size_t kEntriesOnAPage = 120;

struct Line {
  const record::Entry* entry;
  bool struck;
};

std::vector<Line> lines_of(const record::Litter& litter) {
  std::vector<Line> lines;
  lines.reserve(litter.log.size() + litter.struck.size());
  for (const auto& e : litter.log) lines.push_back({&e, false});
  for (const auto& e : litter.struck) lines.push_back({&e, true});
  std::sort(lines.begin(), lines.end(), [](const Line& a, const Line& b) {
    if (a.entry->at.instant != b.entry->at.instant) return a.entry->at.instant > b.entry->at.instant;
    return a.entry->id > b.entry->id;
  });
  return lines;
}

struct Asked {
  std::string correct;
  std::optional<CivilDay> until;
  [[nodiscard]] std::string back() const { return until ? "log?until=" + to_iso(*until) : "log"; }
  std::map<record::EntryId, record::EntryId> strikes;  ///< what is struck out, and by which entry
};

Asked asked_of(const View& view) {
  Asked asked;
  if (const auto it = view.query.find("correct"); it != view.query.end()) asked.correct = it->second;
  if (asked.correct.empty() && view.problem)
    if (const auto it = view.typed.find("corrects"); it != view.typed.end()) asked.correct = it->second;
  if (const auto it = view.query.find("until"); it != view.query.end())
    if (const auto day = parse_day(it->second)) asked.until = *day;
  return asked;
}

Html correction(const View& view, const record::Entry& e, const std::string& back) {
  Form form{view, "correct", e.kind, e.about, back, e.id};
  const Units units = view.litter.units();
  std::string label, value;
  if (const auto* w = record::body_as<record::Weight>(e)) {
    label = "It should read, " + unit_word(units.weight);
    value = say(w->grams, units.weight);
    form.hidden("unit", unit_word(units.weight));
  } else if (const auto* t = record::body_as<record::Temperature>(e)) {
    label = "It should read, " + unit_word(units.temperature);
    value = say(t->celsius, units.temperature);
  }
  return form.finish(form.field("reading", label, {.value = value, .mode = "decimal", .required = true}) +
                         form.when("When", wall_clock(view.litter.zone, e.at.instant)) + Form::submit("Correct it") +
                         link(litter_href(view.litter, back), text("Leave it"), "button quiet"),
                     "stack correct");
}

Html entry_line(const View& view, const Line& line, const Asked& asked, const std::set<record::EntryId>& corrected) {
  const auto& e = *line.entry;
  const std::string said = say_entry(view.litter, e);
  const Html time = element("time", {{"datetime", to_iso(e.at)}}, text(say_time(view.litter.zone, e.at.instant)));
  Html words = (line.struck ? element("s", {}, text(said)) : span("said", text(said)));
  if (!e.note.empty() && record::body_as<record::Note>(e) == nullptr)
    words += span("note", line.struck ? element("s", {}, text(e.note)) : text(e.note));
  if (!e.by.empty()) words += span("by", text(" " + e.by));
  const auto late = e.written.instant - e.at.instant;
  if (late > std::chrono::minutes{10}) words += span("by", text(", written " + say_when(view, e.written.instant)));
  if (e.corrects) words += span("by", text(", corrects an earlier entry"));
  Html tail;
  if (line.struck) {
    words += span("by", text(corrected.count(e.id) != 0 ? ", corrected" : ", struck out"));
    if (const auto it = asked.strikes.find(e.id); it != asked.strikes.end())
      tail += change_row(said, strike_button(view, it->second, asked.back(), "Put it back", said));
  } else if (e.id == asked.correct && (record::body_as<record::Weight>(e) || record::body_as<record::Temperature>(e))) {
    tail += correction(view, e, asked.back());
  } else {
    Html buttons;
    if (record::body_as<record::Weight>(e) || record::body_as<record::Temperature>(e))
      buttons += link(litter_href(view.litter, "log?correct=" + percent_encode(e.id) +
                                                   "&until=" + to_iso(view.litter.zone.day_of(e.at.instant))) +
                          "#correct",
                      text("Correct") + span("unseen", text(": " + said)), "button quiet");
    if (record::body_as<record::Strike>(e) == nullptr)
      buttons += strike_button(view, e.id, asked.back(), "Strike out", said);
    tail += change_row(said, buttons);
  }
  return element("li", {{"class", line.struck ? "entry struck" : "entry"}},
                 time + div("words", words) + div("tail", tail));
}

}  // namespace

std::string log_page(const View& view) {
  const Zone& zone = view.litter.zone;
  Asked asked = asked_of(view);
  const auto lines = lines_of(view.litter);
  std::set<record::EntryId> corrected;
  for (const auto& e : view.litter.log) {
    if (e.corrects) corrected.insert(*e.corrects);
    if (const auto* strike = record::body_as<record::Strike>(e)) asked.strikes[strike->strike] = e.id;
  }

  auto it = lines.begin();
  if (asked.until)
    it = std::find_if(lines.begin(), lines.end(),
                      [&](const Line& l) { return zone.day_of(l.entry->at.instant) <= *asked.until; });
  Html days;
  std::size_t shown = 0;
  while (it != lines.end() && shown < kEntriesOnAPage) {
    const auto day = zone.day_of(it->entry->at.instant);
    Html rows;
    for (; it != lines.end() && zone.day_of(it->entry->at.instant) == day; ++it, ++shown)
      rows += entry_line(view, *it, asked, corrected);
    days += element("section", {}, h2(text(say_day(day))) + element("ol", {{"class", "entries"}}, rows));
  }
  if (days.empty()) days = p("hint", text("Nothing is written down yet."));

  Html turn;
  if (asked.until) turn += link(litter_href(view.litter, "log"), text("To the newest"), "button quiet");
  if (it != lines.end())
    turn += link(litter_href(view.litter, "log?until=" + to_iso(zone.day_of(it->entry->at.instant))),
                 text("Earlier days"), "button");
  Html main = p(
      "hint", text("Nothing is ever rubbed out. A strike or a correction is a new entry; the old one stays readable."));
  if (!view.litter.misfits.empty()) {
    Html items;
    for (const auto& misfit : view.litter.misfits) items += element("li", {}, text(sentence(misfit.why)));
    main += element("section", {{"class", "card cannot-tell"}},
                    h2(text("Entries that do not fit")) + element("ul", {}, items));
  }
  main += live("log", days) + div("ends", turn);
  return page_of(view, {.title = "Log", .screen = "log", .back = asked.back()}, main);
}

}  // namespace lampside::page
