#include "page/words.hpp"

#include <fmt/format.h>

#include <array>
#include <chrono>
#include <cmath>

#include "care/given.hpp"
#include "supplies/amounts.hpp"
#include "supplies/stock.hpp"

namespace lampside::page {

using record::Sign;

std::string_view words_for(reference::Level level) {
  switch (level) {
    case reference::Level::emergency:
      return "Emergency";
    case reference::Level::call_vet:
      return "Call the vet";
    case reference::Level::act:
      return "Do now";
    case reference::Level::watch:
      return "Watch";
    case reference::Level::note:
      return "Note";
  }
  return "Note";
}

std::string_view words_for(whelping::Stage stage) {
  switch (stage) {
    case whelping::Stage::before:
      return "No sign yet";
    case whelping::Stage::first_stage:
      return "Getting ready";
    case whelping::Stage::straining:
      return "Pushing";
    case whelping::Stage::between_pups:
      return "Between pups";
    case whelping::Stage::done:
      return "Settled";
  }
  return "";
}

std::string_view words_for(Sign sign) {
  switch (sign) {
    case Sign::nesting:
      return "Digging, nesting";
    case Sign::panting:
      return "Panting";
    case Sign::shivering:
      return "Shivering";
    case Sign::off_food:
      return "Off her food";
    case Sign::vomiting:
      return "Vomiting";
    case Sign::mucus:
      return "Clear slime";
    case Sign::waters:
      return "Waters broke";
    case Sign::green_discharge:
      return "Green discharge";
    case Sign::bleeding:
      return "Bleeding";
    case Sign::foul_discharge:
      return "Foul discharge";
    case Sign::weak_straining:
      return "Weak pushing";
    case Sign::strong_straining:
      return "Strong pushing";
    case Sign::straining_stopped:
      return "Pushing stopped";
    case Sign::pup_visible:
      return "Pup in sight";
    case Sign::collapse:
      return "Collapse";
    case Sign::twitching:
      return "Twitching, stiff";
    case Sign::hard_hot_teat:
      return "Hard, hot teat";
    case Sign::lochia:
      return "Red-brown flow";
    case Sign::neglects_pups:
      return "Leaves her pups";
    case Sign::settled:
      return "Settled, resting";
    case Sign::no_suck:
      return "Does not suck";
    case Sign::sucks_well:
      return "Sucks well";
    case Sign::belly_taut:
      return "Belly taut";
    case Sign::belly_soft:
      return "Belly soft";
    case Sign::loose_stool:
      return "Loose stool";
    case Sign::piled_up:
      return "Piled up";
    case Sign::spread_out:
      return "Spread out";
  }
  return "";
}

std::string_view words_for(record::Sex sex) { return sex == record::Sex::female ? "bitch" : "dog"; }

std::string_view words_for(record::Presentation p) {
  return p == record::Presentation::head_first ? "head first" : "tail first";
}

std::string_view words_for(record::AirPlace place) {
  switch (place) {
    case record::AirPlace::under_lamp:
      return "under the lamp";
    case record::AirPlace::cool_end:
      return "at the cool end";
    case record::AirPlace::room:
      return "in the room";
    case record::AirPlace::basket:
      return "in the basket";
    case record::AirPlace::mat:
      return "on the bare mat";
  }
  return "";
}

std::string_view words_for_clock(std::string_view kind) {
  static constexpr std::array<std::array<std::string_view, 2>, 7> kWords{{
      {"strong_straining", "Strong pushing for"},
      {"weak_straining", "Weak pushing for"},
      {"waters", "Since the waters broke"},
      {"green_discharge", "Since green discharge"},
      {"last_pup", "Since the last pup"},
      {"temperature_drop", "Since her temperature dropped"},
      {"labour", "In labour for"},
  }};
  return words_in(kWords, kind);
}

const std::vector<SignGroup>& sign_groups() {
  static const std::vector<SignGroup> kGroups{
      {"Pushing", false, {Sign::weak_straining, Sign::strong_straining, Sign::straining_stopped, Sign::pup_visible}},
      {"Fluids", false, {Sign::waters, Sign::green_discharge}},
      {"Trouble",
       true,
       {Sign::bleeding, Sign::foul_discharge, Sign::collapse, Sign::twitching, Sign::hard_hot_teat,
        Sign::neglects_pups}},
      {"Calm", false, {Sign::settled, Sign::lochia}},
      {"Getting ready",
       false,
       {Sign::nesting, Sign::panting, Sign::shivering, Sign::off_food, Sign::vomiting, Sign::mucus}},
  };
  return kGroups;
}

std::string say_pup(const record::Pup& pup) {
  std::string out = "Pup " + pup.label;
  if (!pup.collar().empty()) out += ", " + pup.collar();
  return out;
}

std::string say_about(const record::Litter& litter, std::string_view about) {
  if (about == "dam") return litter.dam_name();
  if (about == "box") return "The box";
  if (about.empty() || about == "litter") return "The litter";
  if (const auto* pup = litter.pup(about)) return say_pup(*pup);
  return "Pup " + std::string(about);
}

namespace {

/// The fields of a supply that its page was sent back without.
std::string say_emptied(const std::string& cleared) {
  constexpr std::pair<std::string_view, std::string_view> kFields[] = {{"expires", "when it goes out of date"},
                                                                       {"tested", "when it was tried"},
                                                                       {"pack", "what is in a pack"},
                                                                       {"cost", "its price"},
                                                                       {"keeps_open_d", "how long it keeps"},
                                                                       {"opened", "when it was opened"},
                                                                       {"need", "how much for the litter"},
                                                                       {"need_per_pup", "how much for a pup"},
                                                                       {"days_before", "how early"}};
  std::string out;
  for (const auto& [name, words] : kFields)
    if ((" " + cleared + " ").find(fmt::format(" {} ", name)) != std::string::npos)
      out += (out.empty() ? "" : ", ") + std::string(words);
  return out.empty() ? cleared : out;
}

struct EntrySaid {
  const record::Litter& litter;
  const record::Entry& entry;

  [[nodiscard]] Units units() const { return litter.units(); }

  std::string operator()(const record::Note&) const { return entry.note.empty() ? "note" : "note: " + entry.note; }
  std::string operator()(const record::LitterFacts&) const { return "details of the litter"; }
  std::string operator()(const record::Mating& m) const {
    return m.method ? "mating, " + std::string(record::name_of(*m.method)) : "mating";
  }
  std::string operator()(const record::LhSurge&) const { return "LH surge"; }
  std::string operator()(const record::Ovulation&) const { return "ovulation"; }
  std::string operator()(const record::Dioestrus&) const { return "first day of dioestrus"; }
  std::string operator()(const record::Progesterone& p) const {
    return "progesterone " + say_number(p.ng_ml.count(), 2) + " ng/ml";
  }
  std::string operator()(const record::FoetalMeasure& m) const {
    return "scan, " + m.measure + " " + say_number(m.mm.count(), 1) + " mm";
  }
  std::string operator()(const record::PupCount& c) const {
    const std::string how = c.method == record::CountMethod::xray ? "X-ray" : "ultrasound";
    return how + " count: " + (c.at_least.value_or(true) ? "at least " : "") + std::to_string(c.pups);
  }
  std::string operator()(const record::EarlierLitter& e) const {
    return "earlier litter, " + say_number(e.days.count(), 1) + " days";
  }
  std::string operator()(const record::Temperature& t) const {
    return "temperature " + say(t.celsius, units().temperature);
  }
  std::string operator()(const record::SignSeen& s) const {
    std::string words{words_for(s.sign)};
    words.front() =
        static_cast<char>(words.front() >= 'A' && words.front() <= 'Z' ? words.front() + 32 : words.front());
    return words;
  }
  std::string operator()(const record::Birth& b) const {
    std::string out = b.alive.value_or(true) ? "born" : "born dead";
    if (b.sex) out += ", " + std::string(words_for(*b.sex));
    if (b.grams) out += ", " + say(*b.grams, units().weight);
    if (b.collar && !b.collar->empty()) out += ", collar " + *b.collar;
    return out;
  }
  std::string operator()(const record::PlacentaPassed&) const { return "placenta passed"; }
  std::string operator()(const record::NewbornScore& s) const {
    return "newborn score " + std::to_string(s.total()) + " of 10";
  }
  std::string operator()(const record::Weight& w) const {
    std::string out = "weight " + say(w.grams, units().weight);
    if (w.tare_g && w.tare_g->count() > 0) out += " (tub " + say(*w.tare_g, units().weight) + " off)";
    return out;
  }
  std::string operator()(const record::Feed& f) const {
    return "fed " + say_number(f.ml.count(), 1) + " ml by " + std::string(record::name_of(f.by));
  }
  std::string operator()(const record::DamMeal& m) const {
    std::string out = "meal";
    if (m.food) out += ", " + *m.food;
    if (m.grams) out += ", " + say_number(m.grams->count(), 0) + " g";
    if (m.kcal) out += ", " + say_number(m.kcal->count(), 0) + " kcal";
    return out;
  }
  std::string operator()(const record::Air& a) const {
    return "air " + std::string(words_for(a.where)) + " " + say(a.celsius, units().temperature);
  }
  std::string operator()(const record::Lamp& l) const {
    if (l.off.value_or(false)) return "lamp off";
    return "lamp " + say_number(l.watts.count(), 0) + " W, " + say_number(l.cm.count(), 0) + " cm above the pups";
  }
  std::string operator()(const record::Dose& d) const {
    std::string out = "dose of " + d.product;
    for (const auto in : {care::Measured::ml, care::Measured::tablets, care::Measured::grams})
      if (const auto given = care::portion_given(d, in)) out += ", " + care::say(*given);
    if (d.lot) out += ", lot " + *d.lot;
    return out;
  }
  std::string operator()(const record::DoseSkipped& s) const { return "no " + s.product + ": " + s.reason; }
  std::string operator()(const record::Product& p) const {
    return "label of " + p.name + (p.strength ? ", " + *p.strength : std::string{});
  }
  std::string operator()(const record::Done& d) const {
    if (d.task.starts_with(record::kReadingRight)) return "a doubted weight is right as it stands";
    return "done: " + d.task;
  }
  std::string operator()(const record::CareChoice& c) const {
    if (c.topic == "tube_feeding")
      return c.set == "shown" ? "tube feeding shown by " + c.vet.value_or("nobody named") : "tube feeding not shown";
    if (c.topic == "feeding_line") return "line of milk by hand: " + c.set;
    if (c.topic == "box_target") return "warmth of the box by: " + in_words(c.set);
    return "plan of care: " + in_words(c.set);
  }
  std::string operator()(const record::CareEdit& c) const {
    const bool dropped = c.drop.value_or(false);
    return (dropped ? "dropped from the plan: " : "moved in the plan: ") + in_words(c.task) +
           (c.shift_d ? ", " + std::to_string(*c.shift_d) + " d" : "") + " (" + c.why + ")";
  }
  std::string operator()(const record::CareOwn& c) const {
    return "planned: " + c.what + (c.each_pup.value_or(false) ? ", each pup" : "") + ", " + say_day(c.day);
  }
  std::string operator()(const record::Later& l) const {
    return "put off: " + in_words(l.task) + " until " + say_day(l.until) + " (" + l.why + ")";
  }
  std::string operator()(const record::Microchip& m) const { return "microchip " + m.number; }
  std::string operator()(const record::Procedure& p) const { return "procedure: " + p.what; }
  std::string operator()(const record::Wound& w) const {
    std::string out;
    const auto add = [&](const std::optional<bool>& seen, const char* word) {
      if (seen.value_or(false)) out += std::string(out.empty() ? "wound: " : ", ") + word;
    };
    add(w.bleeding, "bleeding");
    add(w.swelling, "swelling");
    add(w.heat, "heat");
    add(w.discharge, "discharge");
    return out.empty() ? "wound looked at, clean" : out;
  }
  std::string operator()(const record::Death& d) const { return "died" + (d.cause ? ", " + *d.cause : std::string{}); }
  std::string operator()(const record::Departure& d) const { return "left" + (d.to ? ", to " + *d.to : std::string{}); }
  std::string operator()(const record::Stock& s) const {
    std::string out = "supplies: " + s.item;
    const auto unit = supplies::unit_of(litter, reference::built_in(), s.item);
    if (s.wanted && !*s.wanted) out += ", not wanted";
    if (s.have) out += ", " + supplies::say(*s.have, unit) + " in the house";
    if (s.where) out += ", " + in_words(record::name_of(*s.where));
    if (s.tested) out += ", tried " + say_day(*s.tested);
    if (s.need || s.need_per_pup) out += ", the amount needed";
    if (s.used) out += ", " + supplies::say(*s.used, unit) + " used";
    if (s.opened) out += ", opened " + say_day(*s.opened);
    if (s.car) out += *s.car ? ", goes into the car" : ", stays out of the car";
    if (s.cleared) out += ", no longer written down: " + say_emptied(*s.cleared);
    if (s.from) out += ", left over from " + *s.from;
    return out;
  }
  std::string operator()(const record::ShopRun& s) const { return "shopping on " + say_day(s.day); }
  std::string operator()(const record::Suckled&) const { return entry.about.empty() ? "all pups sucking" : "sucking"; }
  std::string operator()(const record::StageSaid& s) const {
    return "stage of labour set to " + in_words(record::name_of(s.stage));
  }
  std::string operator()(const record::HouseLimit& h) const {
    return "house limit for " + h.code + ": " + std::to_string(h.min) + " min, said by " + h.who;
  }
  std::string operator()(const record::Photo&) const { return "a picture"; }
  std::string operator()(const record::Milk& m) const {
    return "label of " + m.name + (m.kcal_ml ? ", " + say_number(m.kcal_ml->count(), 2) + " kcal/ml" : std::string{});
  }
  std::string operator()(const record::Food& f) const {
    return "label of " + f.name +
           (f.kcal_100g ? ", " + say_number(f.kcal_100g->count(), 0) + " kcal in 100 g" : std::string{});
  }
  std::string operator()(const record::HandFeeding& h) const {
    switch (h.share) {
      case record::FeedShare::none:
        return "no feeding by hand";
      case record::FeedShare::top_up:
        return "topped up by hand";
      case record::FeedShare::full:
        return "fed wholly by hand";
    }
    return "";
  }
  std::string operator()(const record::TeatTurns& t) const {
    if (!t.on.value_or(true)) return "no turns at the teats";
    return "turns at the teats" + (t.teats ? ", " + std::to_string(*t.teats) + " teats" : std::string{});
  }
  std::string operator()(const record::Sensor& s) const {
    return "sensor " + s.topic + (s.off.value_or(false) ? ", off" : ", " + std::string(words_for(s.where)));
  }
  std::string operator()(const record::Family& f) const {
    const std::string name = "family " + f.family;
    return f.status ? name + ", " + in_words(record::name_of(*f.status)) : name + ", what they look for";
  }
  std::string operator()(const record::Deposit& d) const {
    return (d.returned.value_or(false) ? "deposit returned to family " : "deposit of family ") + d.family + ", " +
           say_cash(d.amount, d.currency);
  }
  std::string operator()(const record::Choice& c) const {
    const std::string who = c.family ? "family " + *c.family : "the keeper";
    switch (c.made) {
      case record::ChoiceMade::pick:
        return "picked by " + who;
      case record::ChoiceMade::pass:
        return who + " passes" + (c.why ? ", " + *c.why : std::string{});
      case record::ChoiceMade::release:
        return "given up by " + who + (c.why ? ", " + *c.why : std::string{});
    }
    return "";
  }
  std::string operator()(const record::PickRule& r) const {
    return r.order == record::PickOrder::deposit ? "families choose in the order of their deposits"
                                                 : "the keeper matches pups and families";
  }
  std::string operator()(const record::BehaviourTest&) const { return "behaviour test"; }
  std::string operator()(const record::Handover& h) const {
    return "handed over" + (h.family ? " to family " + *h.family : std::string{});
  }
  std::string operator()(const record::MoneyMoved& m) const {
    return (m.direction == record::MoneyWay::in ? "money in: " : "money out: ") + say_cash(m.amount, m.currency) +
           ", " + m.what_for;
  }
  std::string operator()(const record::Contract&) const { return "the contract's clauses"; }
  std::string operator()(const record::Consent& c) const {
    return "family " + c.family + (c.given ? " agrees: " : " does not agree: ") + in_words(c.what);
  }
  std::string operator()(const record::FollowUp& f) const {
    std::string out = "news";
    if (f.grams) out += ", " + say(*f.grams, units().weight);
    if (f.news) out += ", " + *f.news;
    return out;
  }
  std::string operator()(const record::Erased& e) const { return "family " + e.family + " erased"; }
  std::string operator()(const record::Strike& s) const {
    for (const auto* entries : {&litter.struck, &litter.log})
      for (const auto& e : *entries)
        if (e.id == s.strike) {
          // A strike-out struck out brings the entry back. Named one step deep: a ring of strikes must end here.
          const auto* again = record::body_as<record::Strike>(e);
          if (again == nullptr) return "strike-out of " + say_entry(litter, e);
          for (const auto* others : {&litter.struck, &litter.log})
            for (const auto& first : *others)
              if (first.id == again->strike && record::body_as<record::Strike>(first) == nullptr)
                return "put back: " + say_entry(litter, first);
        }
    return "a strike-out";
  }
  std::string operator()(const record::Other&) const { return entry.kind; }
};

}  // namespace

std::string say_entry(const record::Litter& litter, const record::Entry& entry) {
  const std::string what = std::visit(EntrySaid{litter, entry}, entry.body);
  if (entry.about.empty()) return sentence(what);
  return say_about(litter, entry.about) + ": " + what;
}

std::string say_when(const View& view, Instant t) {
  const Zone& zone = view.litter.zone;
  const auto day = zone.day_of(t);
  const auto today = zone.day_of(view.now);
  if (day == today) return say_time(zone, t);
  if (day + std::chrono::days{1} == today) return "yesterday " + say_time(zone, t);
  return say_day_time(zone, t);
}

std::string say_at(const View& view, Instant t) {
  const Zone& zone = view.litter.zone;
  return (zone.day_of(t) == zone.day_of(view.now) ? "at " : "") + say_when(view, t);
}

std::string say_ago(const View& view, Instant t) {
  const Span span = view.now - t;
  if (span < -std::chrono::minutes{1}) return "in " + say_span(-span);
  if (span < std::chrono::minutes{1}) return "just now";
  return say_span(span) + " ago";
}

std::string say_change(Grams difference, WeightUnit unit) {
  if (difference.count() == 0) return "no change";
  const std::string amount = say(Grams{std::fabs(difference.count())}, unit);
  return (difference.count() < 0 ? "lost " : "gained ") + amount;
}

std::string wall_clock(const Zone& zone, Instant t) {
  const std::string iso = to_iso(zone.stamp(t));
  return iso.substr(0, 16);
}

std::string percent_encode(std::string_view text) {
  static constexpr std::string_view kPlain = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_.~";
  static constexpr std::string_view kHex = "0123456789ABCDEF";
  std::string out;
  for (const char c : text) {
    if (kPlain.find(c) != std::string_view::npos) {
      out += c;
    } else {
      const auto byte = static_cast<unsigned char>(c);
      out += '%';
      out += kHex[byte >> 4];
      out += kHex[byte & 15];
    }
  }
  return out;
}

std::string litter_href(const record::Litter& litter, std::string_view screen) {
  return "/l/" + percent_encode(litter.key) + "/" + std::string(screen);
}

std::string pup_href(const record::Litter& litter, const record::Pup& pup) {
  return litter_href(litter, "pup?label=" + percent_encode(pup.label));
}

std::string tel_href(std::string_view phone) {
  std::string digits;
  for (std::size_t i = 0; i < phone.size(); ++i) {
    const char c = phone[i];
    if (digits.starts_with('+') && phone.substr(i).starts_with("(0)"))
      i += 2;  // "+44 (0)1632": the nought is for those who dial without the country
    else if ((c >= '0' && c <= '9') || (c == '+' && digits.empty()))
      digits += c;
    else if (std::string_view(" ()-./").find(c) == std::string_view::npos && digits.size() > 2)
      break;  // "ext 12", "or 07700 ...": another number begins
  }
  if (digits.find_first_of("0123456789") == std::string::npos) return "";
  return "tel:" + digits;
}

}  // namespace lampside::page
