#include "server/forms.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <nlohmann/json.hpp>
#include <span>

#include "homes/handover.hpp"
#include "page/words.hpp"
#include "reference/tables.hpp"
#include "server/form_kinds.hpp"
#include "supplies/stock.hpp"

namespace lampside::server {
namespace {

using record::Entry;
using record::Json;

bool present(const Fields& form, const std::string& name) { return form.find(name) != form.end(); }

/// "ng_ml: "..." is not a number": the field is named, since a form has many.
Problem of_field(std::string_view name, const Problem& p) {
  return {p.code, std::string(name) + ": " + p.what, p.todo};
}

Result<void> put_field(Json& json, const FieldOf& field, const std::string& text) {
  const std::string name{field.name};
  if (text.empty()) {
    json.erase(name);
  } else if (field.type == FieldOf::Type::number) {
    const auto value = parse_number(text);
    if (!value) return tl::unexpected(of_field(name, value.error()));
    json[name] = *value;
  } else if (field.type == FieldOf::Type::yes_no) {
    if (text != "true" && text != "false")
      return problem("FORM_CHOICE", name + " cannot be \"" + text + "\"", "choose yes or no");
    json[name] = text == "true";
  } else {
    json[name] = text;
  }
  return {};
}

bool has_letter(std::string_view s) {
  return std::any_of(s.begin(), s.end(), [](char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); });
}

/// Milligrams are beyond every scale; this drops the dust that taking the tub off leaves in a double.
double tidy(double grams) { return std::round(grams * 1000.0) / 1000.0; }

/// The weight typed into `reading`, the tub taken off.
Result<void> put_weight(Json& json, const Fields& form, const Known& known, const Entry* old) {
  const bool birth = json["kind"] == "birth";
  const auto reading = typed(form, "reading");
  if (reading.empty()) {
    if (!birth && (old == nullptr || present(form, "reading")))
      return problem("FORM_READING", "no weight was typed", "type what the scale shows, e.g. 412 or 14 3/8 oz");
    if (birth && present(form, "reading"))
      for (const auto* name : {"grams", "as_read"}) json.erase(name);
    return {};
  }
  auto unit = known.litter.units().weight;
  if (const auto word = typed(form, "unit"); !word.empty()) {
    const auto chosen = record::from_name<WeightUnit>(word);
    if (!chosen) return problem("FORM_CHOICE", "\"" + word + "\" is not a unit of weight here", "use g, oz, kg or lb");
    unit = *chosen;
  }
  // A correction form shows the old weight rounded for reading. Sent back as it was shown, it is no new reading.
  if (json.contains("grams") && json["grams"].is_number() && reading == say(Grams{json["grams"].get<double>()}, unit))
    return {};
  const auto full = parse_weight(reading, unit);
  if (!full) return tl::unexpected(full.error());
  const auto tub_text = typed(form, "tub");
  Grams tub{0};
  if (!tub_text.empty()) {
    const auto parsed = parse_weight(tub_text, unit);
    if (!parsed) return tl::unexpected(of_field("weight of the tub", parsed.error()));
    tub = *parsed;
  }
  const Grams net{tidy((*full - tub).count())};
  if (!(net > Grams{0}))
    return problem("FORM_TUB",
                   "the reading (" + say(*full, unit) + ") is not more than the empty tub (" + say(tub, unit) + ")",
                   "empty the field of the tub if the scale was set to zero with the tub on it");
  if (typed(form, "about") == "dam" && net < record::kLeastDam)
    return problem("FORM_DAM_WEIGHT", "no grown dog weighs " + say(net, WeightUnit::grams),
                   "write the unit with it: 31.5 kg, or 69 lb 7 oz");
  json["grams"] = net.count();
  json["as_read"] = has_letter(reading) ? reading : reading + " " + std::string(record::name_of(unit));
  json.erase("tare_g");
  if (tub > Grams{0}) {
    if (birth) {
      json["as_read"] = json["as_read"].get<std::string>() + " in a tub of " + say(tub, unit);
    } else {
      json["tare_g"] = tidy(tub.count());
    }
  }
  return {};
}

Result<void> put_temperature(Json& json, const Fields& form, const Known& known, const Entry* old) {
  const auto reading = typed(form, "reading");
  const auto unit = known.litter.units().temperature;
  if (reading.empty()) {
    if (old != nullptr && !present(form, "reading")) return {};
    return problem("FORM_READING", "no temperature was typed", "type what the thermometer shows, e.g. 37.2 or 98.9 F");
  }
  if (json.contains("celsius") && json["celsius"].is_number() &&
      reading == say(Celsius{json["celsius"].get<double>()}, unit))
    return {};
  const auto celsius = parse_temperature(reading, unit);
  if (!celsius) return tl::unexpected(celsius.error());
  json["celsius"] = tidy(celsius->count());
  if (json["kind"] == "temperature")
    json["as_read"] = has_letter(reading) ? reading : reading + " " + std::string(record::name_of(unit));
  return {};
}

/// Amounts of a supply: in its own unit, or in packs where their size is known.
Result<void> put_stock(Json& json, const Fields& form, const Known& known) {
  const auto& reference = reference::built_in();
  const auto item = typed(form, "item");
  if (item.empty()) return problem("FORM_READING", "the thing has no name", "type what it is, e.g. towels");
  if (supplies::is_vet_only(reference, item))
    return problem("FORM_VET_ONLY", "\"" + item + "\" is for a vet to give, and is not kept on these lists",
                   "ask your vet; what a vet leaves with you belongs into a note");
  const auto* row = supplies::row_of(reference, item);
  std::string unit = row ? std::string(row->unit) : typed(form, "unit");
  std::optional<Amount> pack;
  for (const auto& kept : supplies::inventory(known.litter, reference)) {
    if (kept.what.item != (row ? std::string(row->item) : item)) continue;
    if (!row && unit.empty()) unit = kept.what.unit.value_or("");
    pack = kept.what.pack;
  }
  for (const std::string name : {"pack", "have", "used", "need", "need_per_pup"}) {
    const auto text = typed(form, name);
    if (text.empty()) continue;
    // Sent back as it was shown, it is no new count: meanwhile another phone may have used some.
    if (name == "have" && text == typed(form, "have_shown")) continue;
    const auto amount = supplies::parse_amount(text, unit, name == "pack" ? std::nullopt : pack);
    if (!amount) return tl::unexpected(of_field(name, amount.error()));
    json[name] = tidy(amount->count());
    if (name == "pack") pack = *amount;
  }
  if (const auto text = typed(form, "cost"); !text.empty()) {
    const auto cost = parse_number(text);
    if (!cost) return tl::unexpected(of_field("price", cost.error()));
    json["cost"] = *cost;
  }
  if (!typed(form, "car").empty() && typed(form, "car") == typed(form, "car_shown")) json.erase("car");
  // What the page showed and the keeper emptied holds no longer.
  std::string cleared = typed(form, "cleared"), name;
  for (const char c : typed(form, "shown") + " ") {
    if (c != ' ') {
      name += c;
      continue;
    }
    if (!name.empty() && present(form, name) && typed(form, name).empty())
      cleared += (cleared.empty() ? "" : " ") + name;
    name.clear();
  }
  if (!cleared.empty()) json["cleared"] = cleared;
  return {};
}

/// No check digit guards a chip's number: it is typed, or scanned, twice.
Result<void> check_chip(const Entry& entry, const Fields& form) {
  const auto again = typed(form, "number_again");
  const auto& number = std::get<record::Microchip>(entry.body).number;
  if (!present(form, "number_again") || again == number) return {};
  return problem("FORM_CHIP_TWICE",
                 again.empty() ? "the chip number was typed once only"
                               : "the two chip numbers differ: " + number + " and " + again,
                 "scan the pup once more and type in both fields what the reader shows");
}

Problem sent_before() {
  return {"FORM_SENT_BEFORE", "this form was sent before with something else in it, and that was recorded",
          "look at the log; correct the entry there, or open the page again for a new one"};
}

bool struck_or_corrected(const record::Litter& litter, const record::EntryId& id) {
  return std::any_of(litter.struck.begin(), litter.struck.end(), [&](const Entry& e) { return e.id == id; });
}

Result<Stamp> when(const Fields& form, const Known& known, const Entry* already, const Entry* old) {
  const auto text = typed(form, "at");
  // `tapped`: when a phone without a connection was tapped. What has come through before keeps the moment it has.
  const auto tapped = typed(form, "tapped");
  if (text.empty() && !already && !old && !tapped.empty()) return parse_wall(tapped, known.litter.zone, known.now);
  if (text.empty()) return already ? already->at : old ? old->at : known.litter.zone.stamp(known.now);
  // Shown to the minute; sent back as it was shown, the moment keeps its seconds (and the order of two births).
  if (old && text == page::wall_clock(known.litter.zone, old->at.instant)) return old->at;
  if (already && text == page::wall_clock(known.litter.zone, already->at.instant)) return already->at;
  return parse_wall(text, known.litter.zone, known.now);
}

}  // namespace

std::string typed(const Fields& form, const std::string& name) {
  const auto found = form.find(name);
  if (found == form.end()) return {};
  std::string_view s = found->second;
  const auto blank = [](char c) { return c == ' ' || c == '\t' || c == '\r' || c == '\n'; };
  while (!s.empty() && blank(s.front())) s.remove_prefix(1);
  while (!s.empty() && blank(s.back())) s.remove_suffix(1);
  return std::string{s};
}

Result<Stamp> parse_wall(std::string_view text, const Zone& zone, Instant now) {
  const auto wrong = [&] {
    return problem("FORM_TIME", "\"" + std::string(text.substr(0, 40)) + "\" is not a date and time",
                   "type it as 2026-03-01T02:30, or leave it empty for now");
  };
  Stamp stamp;
  const auto day = parse_day(text.substr(0, 10));
  const auto clock = text.size() > 10 ? text.substr(11) : std::string_view{"12:00"};
  const auto digits = [&](std::size_t from) {
    const char tens = clock[from], ones = clock[from + 1];
    return tens >= '0' && tens <= '9' && ones >= '0' && ones <= '9' ? (tens - '0') * 10 + (ones - '0') : 99;
  };
  const bool plain =
      (clock.size() == 5 || clock.size() == 8) && clock[2] == ':' && (clock.size() == 5 || clock[5] == ':');
  if (!plain) {
    const auto given = parse_stamp(text);
    if (!given) return text.size() > 16 ? tl::unexpected(given.error()) : Result<Stamp>{wrong()};
    stamp = *given;
  } else {
    if (!day || (text.size() > 10 && text[10] != 'T' && text[10] != ' ')) return wrong();
    const int hours = digits(0), minutes = digits(3), seconds = clock.size() == 8 ? digits(6) : 0;
    if (hours > 23 || minutes > 59 || seconds > 59) return wrong();
    const auto wall = std::chrono::hours{hours} + Minutes{minutes};
    auto instant = zone.instant_of(*day, wall);
    const auto again = instant + std::chrono::hours{1};
    if (zone.time_of_day(again) == wall && zone.day_of(again) == *day && again <= now &&
        now - again <= std::chrono::hours{2})
      instant = again;
    stamp = zone.stamp(instant + std::chrono::seconds{seconds});
    if (text.size() == 10 && stamp.instant > now && zone.day_of(now) == *day)
      stamp = zone.stamp(now);  // today, before noon
  }
  if (stamp.instant > now + Minutes{5})
    return problem("FORM_FUTURE", "this time lies in the future: " + say_day_time(zone, stamp.instant),
                   "check date and time, or leave the field empty for now");
  return stamp;
}

std::string next_label(const record::Litter& litter) {
  for (int n = 1;; ++n) {
    auto label = std::to_string(n);
    if (std::none_of(litter.log.begin(), litter.log.end(), [&](const Entry& e) { return e.about == label; }))
      return label;
  }
}

Result<Entry> entry_from(const Fields& form, const Known& known) {
  const auto kind = typed(form, "kind");
  const auto* spec = form_kind(kind);
  if (!spec) return problem("FORM_KIND", "a form cannot record \"" + kind + "\"", "go back and open the page again");
  const auto id = typed(form, "id");
  const Entry* already = known.find(id);
  const Entry* old = nullptr;
  const auto corrects = typed(form, "corrects");
  if (!corrects.empty()) {
    old = known.find(corrects);
    if (!old || old->litter != known.litter.key || old->kind != kind)
      return problem("FORM_CORRECTS", "the entry to correct is not in this litter", "open the log and choose it there");
    if (!already && struck_or_corrected(known.litter, corrects))
      return problem("FORM_CORRECTS", "this entry has been corrected or struck out meanwhile",
                     "open the log and look at it as it stands now");
  }

  Json json = Json::object();
  if (old) {
    auto bare = *old;
    bare.by.clear();  // so that a feed's own `by` comes through
    json = record::encode(bare);
  }
  json["id"] = id;
  json["litter"] = known.litter.key;
  json["kind"] = kind;
  if (!corrects.empty()) json["corrects"] = corrects;
  const auto at = when(form, known, already, old);
  if (!at) return tl::unexpected(at.error());
  json["at"] = to_iso(*at);
  json["written"] = to_iso(already ? already->written : known.litter.zone.stamp(known.now));

  auto about = typed(form, "about");
  if (kind == "care_own" && about == "pups" && !known.litter.pup(about)) {  // each of them, by itself
    about.clear();
    json["each_pup"] = true;
  }
  if (about.empty() && old) about = old->about;
  if (about.empty() && kind == "birth") about = already ? already->about : next_label(known.litter);
  json["about"] = about;
  if (present(form, "note")) json["note"] = typed(form, "note");
  if (kind == "note" && typed(form, "note").empty())
    return problem("FORM_READING", "the note is empty", "write something, or leave it");

  for (const auto& field : spec->fields)
    if (present(form, std::string{field.name}))
      if (const auto ok = put_field(json, field, typed(form, std::string{field.name})); !ok)
        return tl::unexpected(ok.error());
  // Another strength is another question: an answer to the one before does not carry over.
  if (kind == "product" && old && !present(form, "confirmed") && present(form, "strength") &&
      json.value("strength", "") != std::get<record::Product>(old->body).strength.value_or(""))
    json.erase("confirmed");
  // Who a family is stays out of the journal. What an older entry says there may stand.
  if (const auto to = typed(form, "to"); kind == "departure" && !to.empty() &&
                                         !(old && to == record::encode(*old).value("to", "")) &&
                                         std::none_of(known.litter.families.begin(), known.litter.families.end(),
                                                      [&](const auto& f) { return f.what.family == to; }))
    return problem("FORM_FAMILY", "to whom it went is no family on the list",
                   "put the family on the list of Homes, then choose it");
  if (kind == "weight" || kind == "birth") {
    if (const auto ok = put_weight(json, form, known, old); !ok) return tl::unexpected(ok.error());
  } else if (kind == "temperature" || kind == "air") {
    if (const auto ok = put_temperature(json, form, known, old); !ok) return tl::unexpected(ok.error());
  } else if (kind == "stock") {
    if (const auto ok = put_stock(json, form, known); !ok) return tl::unexpected(ok.error());
  }

  auto entry = record::decode(json);
  if (!entry) return entry;
  // An early journal's odd entry of such a kind stays a note; a form must not write another.
  if (record::body_as<record::Other>(*entry))
    return problem("ENTRY_MISSING", "a part of this is missing, or is not what it should be",
                   "fill in every field that must be there");
  entry->by = already ? already->by : known.by;
  if (const auto ok = record::check(*entry); !ok) return tl::unexpected(ok.error());
  if (already && !(*already == *entry)) return tl::unexpected(sent_before());
  if (!already)
    if (const auto ok = check_label(*entry, form, old); !ok) return tl::unexpected(ok.error());
  if (kind == "microchip" && !already)
    if (const auto ok = check_chip(*entry, form); !ok) return tl::unexpected(ok.error());
  if (const auto* handover = record::body_as<record::Handover>(*entry); handover && !already)
    if (const auto* pup = known.litter.pup(entry->about))
      if (const auto ok = homes::may_leave(known.litter, reference::built_in(), *pup, *handover, entry->at.instant);
          !ok)
        return tl::unexpected(ok.error());
  return entry;
}

Result<std::vector<Entry>> strike_from(const Fields& form, const Known& known) {
  std::vector<Entry> out;
  for (std::size_t i = 0; i < 60; ++i) {
    const auto n = i == 0 ? std::string{} : "-" + std::to_string(i);
    const auto id = typed(form, "id" + n), target = typed(form, "strike" + n);
    if (i > 0 && target.empty()) break;
    if (const Entry* already = known.find(id)) {
      const auto* strike = record::body_as<record::Strike>(*already);
      if (!strike || strike->strike != target) return tl::unexpected(sent_before());
      out.push_back(*already);
      continue;
    }
    const Entry* entry = known.find(target);
    if (!entry || entry->litter != known.litter.key)
      return problem("FORM_STRIKE", "the entry to strike out is not in this litter",
                     "open the log and choose it there");
    if (struck_or_corrected(known.litter, target)) continue;
    const auto now = known.litter.zone.stamp(known.now);
    out.push_back(record::make_entry(id, known.litter.key, now, now, known.by, "", record::Strike{target}));
    if (const auto ok = record::check(out.back()); !ok) return tl::unexpected(ok.error());
  }
  return out;
}

Result<std::vector<Entry>> answer_from(const Fields& form, const Known& known) {
  const auto answer = typed(form, "answer");
  std::vector<Entry> out;
  for (std::size_t i = 0; i < 30; ++i) {
    const auto n = std::to_string(i);
    const auto target = typed(form, "entry-" + n);
    if (target.empty()) break;
    const auto id = typed(form, i == 0 ? "id" : "id-" + n);
    if (const Entry* already = known.find(id)) {
      out.push_back(*already);  // tapped twice
      continue;
    }
    const Entry* old = known.find(target);
    const bool weighs = old && (record::body_as<record::Weight>(*old) || record::body_as<record::Birth>(*old));
    if (!weighs || old->litter != known.litter.key || struck_or_corrected(known.litter, target))
      return problem("FORM_CORRECTS", "this weight has been corrected or struck out meanwhile",
                     "look at the pup's page as it stands now");
    const auto now = known.litter.zone.stamp(known.now);
    if (answer == "right") {
      out.push_back(record::make_entry(id, known.litter.key, now, now, known.by, old->about,
                                       record::Done{std::string(record::kReadingRight) + target}));
    } else {
      const auto grams = parse_number(typed(form, "grams-" + n));
      if (!grams) return tl::unexpected(grams.error());
      Entry entry = *old;
      entry.id = id;
      entry.written = now;
      entry.by = known.by;
      entry.corrects = target;
      // What was typed is no longer what is meant: it stays with the first entry, and so does the tub.
      if (auto* w = std::get_if<record::Weight>(&entry.body)) *w = record::Weight{Grams{*grams}, {}, {}};
      if (auto* b = std::get_if<record::Birth>(&entry.body)) b->grams = Grams{*grams}, b->as_read.reset();
      out.push_back(std::move(entry));
    }
    if (const auto ok = record::check(out.back()); !ok) return tl::unexpected(ok.error());
  }
  if (out.empty()) return problem("FORM_CORRECTS", "the form names no weight", "go back and open the page again");
  return out;
}

}  // namespace lampside::server
