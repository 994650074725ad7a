#include "exchange/calendar.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

namespace lampside::exchange {
namespace {

using care::Item;
using care::State;
using record::body_as;

constexpr std::size_t kLine = 75;
constexpr std::string_view kAlarmAt = "T8H";  ///< eight in the morning, from the midnight an all-day event begins with

std::string basic(CivilDay day) {
  std::string out = to_iso(day);
  std::erase(out, '-');
  return out;
}
std::string basic(Instant t) {
  std::string out = to_iso(Stamp{std::chrono::floor<std::chrono::seconds>(t), Minutes{0}});  // 2026-03-01T02:30:00Z
  std::erase(out, '-');
  std::erase(out, ':');
  return out;
}

bool bears_on_the_plan(const record::Entry& e) {
  return body_as<record::Birth>(e) || body_as<record::LitterFacts>(e) || body_as<record::Done>(e) ||
         body_as<record::CareChoice>(e) || body_as<record::CareEdit>(e) || body_as<record::CareOwn>(e) ||
         body_as<record::Later>(e) || body_as<record::Microchip>(e) || body_as<record::Procedure>(e) ||
         body_as<record::Wound>(e) || body_as<record::Death>(e) || body_as<record::Departure>(e) ||
         body_as<record::Mating>(e) || body_as<record::TeatTurns>(e) || body_as<record::HandFeeding>(e) ||
         body_as<record::Feed>(e) || body_as<record::Strike>(e);
}

struct Event {
  std::string uid;
  CivilDay day{}, closes{};
  std::vector<const Item*> items;
};

class Writer {
 public:
  Writer(const advice::Assessment& a, const record::Litter& litter) : a_{a}, litter_{litter} {
    for (const auto* entries : {&litter.log, &litter.struck})
      for (const auto& e : *entries) {
        begun_ = std::min(begun_, e.written.instant);
        if (!bears_on_the_plan(e)) continue;
        ++revision_;
        changed_ = std::max(changed_, e.written.instant);
      }
    begun_ = std::min(begun_, a.at);
    changed_ = std::max(changed_, begun_);
  }

  std::string all() {
    line("BEGIN:VCALENDAR");
    line("VERSION:2.0");
    line("PRODID:-//Lampside//Plan of care//EN");
    line("CALSCALE:GREGORIAN");
    line("NAME:" + escape_text(litter_.dam_name() + ": care"));
    line("REFRESH-INTERVAL;VALUE=DURATION:PT6H");
    for (const auto& event : events()) put(event);
    if (const auto* plan = reference::value_of(a_.turns.plan))
      for (const auto& shift : plan->shifts) put(shift);
    for (const auto& round : nest::feed_rounds(a_.feeding, a_.at)) put(round);
    line("END:VCALENDAR");
    return std::move(out_);
  }

 private:
  void line(std::string_view text) { out_ += fold_line(text); }

  std::vector<Event> events() const {
    std::vector<Event> out;
    std::map<std::string, std::size_t> at;
    for (const auto& item : a_.care.items) {
      const bool to_do = item.due() || item.state == State::waiting || item.state == State::later;
      if (!to_do || !item.ticked()) continue;
      const CivilDay day = item.until.value_or(item.best);
      // Moved for one animal: an event of its own, so that the others stay where they are.
      const bool own = !item.why.empty() && !item.about.empty();
      std::string uid = item.task + (own ? ".of-" + item.about : "") + "." + litter_.key + "@lampside";
      const auto [place, fresh] = at.try_emplace(std::move(uid), out.size());
      if (fresh) out.push_back({place->first, day, item.closes, {}});
      Event& event = out[place->second];
      event.day = std::max(event.day, day);  // the youngest pup is old enough too
      event.closes = std::min(event.closes, item.closes);
      event.items.push_back(&item);
    }
    return out;
  }

  void put(const Event& event) {
    const Item& item = *event.items.front();
    const Instant as_of = item.expected ? std::chrono::floor<std::chrono::hours>(a_.at) : changed_;
    const std::string summary = care::say_group(litter_, care::Group{event.items});
    head(event.uid, as_of);
    line("DTSTART;VALUE=DATE:" + basic(event.day));
    line("DTEND;VALUE=DATE:" + basic(event.day + std::chrono::days{1}));
    line("SUMMARY:" + escape_text(summary + (item.expected ? " (if she whelps as expected)" : "")));
    line("DESCRIPTION:" + escape_text(description(item)));
    line("STATUS:" + std::string(item.expected ? "TENTATIVE" : "CONFIRMED"));
    line("TRANSP:TRANSPARENT");
    line("CLASS:PRIVATE");
    alarm(summary, 0);
    if (event.closes > event.day) alarm("Last day: " + summary, (event.closes - event.day).count());
    line("END:VEVENT");
  }

  /// A change of groups at the teats: the same moment keeps its UID, so that asking anew makes no second event.
  void put(const nest::TurnShift& shift) {
    std::string pups;
    for (const auto& label : shift.pups) pups += (pups.empty() ? "" : ", ") + named(label);
    timed("turn-", shift.from, shift.to, fmt::format("Turns: group {} to the teats", shift.group + 1),
          "Pups " + pups + ", the smallest first.\nThe others into the warm nest, a thermometer beside them.");
  }

  /// Milk by hand, with today's amounts. Each feed written down moves those after it.
  void put(const nest::FeedRound& round) {
    std::string pups;
    for (const auto& label : round.pups)
      if (const auto* plan = reference::value_of(a_.feeding.of(label)->plan))
        pups +=
            fmt::format("{}{}: {} ml", pups.empty() ? "" : "\n", named(label), say_number(plan->today.each.count(), 2));
    timed("feed-", round.at, round.at + Minutes{15},
          fmt::format("Milk by hand: {}", round.pups.size() == 1 ? "pup " + named(round.pups.front())
                                                                 : fmt::format("{} pups", round.pups.size())),
          pups +
              "\nAmounts of when this was made: look at the screen Nest first. No milk for a cold pup, one with a taut "
              "belly, or one that does not suck.");
  }

  [[nodiscard]] std::string named(const std::string& label) const {
    const auto* pup = litter_.pup(label);
    return label + (pup && !pup->collar().empty() ? " " + pup->collar() : "");
  }

  void timed(std::string_view what, Instant from, Instant to, const std::string& summary, const std::string& says) {
    head(fmt::format("{}{}.{}@lampside", what, basic(from), litter_.key),
         std::chrono::floor<std::chrono::hours>(a_.at));
    line("DTSTART:" + basic(from));
    line("DTEND:" + basic(to));
    line("SUMMARY:" + escape_text(summary));
    line("DESCRIPTION:" + escape_text(says + "\nYour vet's word comes first."));
    line("STATUS:CONFIRMED");
    line("TRANSP:TRANSPARENT");
    line("CLASS:PRIVATE");
    line("BEGIN:VALARM");
    line("ACTION:DISPLAY");
    line("DESCRIPTION:" + escape_text(summary));
    line("TRIGGER:PT0S");
    line("END:VALARM");
    line("END:VEVENT");
  }

  void head(const std::string& uid, Instant as_of) {
    const auto hours = std::max<std::int64_t>(0, std::chrono::floor<std::chrono::hours>(as_of - begun_).count());
    line("BEGIN:VEVENT");
    line("UID:" + escape_text(uid));
    line("DTSTAMP:" + basic(as_of));
    line("LAST-MODIFIED:" + basic(as_of));
    // A new entry outweighs every hour, so that the number never falls, whichever phone wrote it when.
    line(fmt::format("SEQUENCE:{}", revision_ * 10'000 + std::min<std::int64_t>(hours, 9'999)));
  }

  void alarm(const std::string& says, std::int64_t days_after) {
    line("BEGIN:VALARM");
    line("ACTION:DISPLAY");
    line("DESCRIPTION:" + escape_text(says));
    line(days_after == 0 ? "TRIGGER:P" + std::string(kAlarmAt) : fmt::format("TRIGGER:P{}D{}", days_after, kAlarmAt));
    line("END:VALARM");
  }

  static std::string description(const Item& item) {
    std::string out = fmt::format("From {} to {}.", say_day(item.opens), say_day(item.closes));
    if (!item.why.empty()) out += "\nMoved: " + item.why;
    if (item.row) {
      out += fmt::format("\n{}\nSource: {}, {} ({})", item.row->why, item.row->source.work, item.row->source.locator,
                         reference::name_of(item.row->source.standing));
      if (!item.row->others.empty()) out += fmt::format("\nOther sources: {}", item.row->others);
    }
    return out + "\nYour vet's word and your law come first.";
  }

  const advice::Assessment& a_;
  const record::Litter& litter_;
  Instant begun_ = Instant::max(), changed_ = Instant::min();
  std::int64_t revision_ = 0;
  std::string out_;
};

}  // namespace

std::string escape_text(std::string_view text) {
  std::string out;
  for (const char c : text) {
    if (c == '\\' || c == ',' || c == ';')
      (out += '\\') += c;
    else if (c == '\n')
      out += "\\n";
    else if (static_cast<unsigned char>(c) >= 0x20 && c != 0x7F)
      out += c;
  }
  return out;
}

std::string fold_line(std::string_view line) {
  std::string out;
  std::size_t room = kLine;
  while (line.size() > room) {
    std::size_t cut = room;
    while (cut > 1 && (static_cast<unsigned char>(line[cut]) & 0xC0U) == 0x80U) --cut;  // not inside a letter
    out.append(line.substr(0, cut)) += "\r\n ";
    line.remove_prefix(cut);
    room = kLine - 1;  // the blank counts
  }
  return out.append(line) += "\r\n";
}

std::string to_calendar(const advice::Assessment& assessment, const record::Litter& litter) {
  return Writer{assessment, litter}.all();
}

}  // namespace lampside::exchange
