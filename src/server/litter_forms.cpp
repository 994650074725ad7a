// The two forms that speak of the litter as a whole: its beginning and its settings.
#include <algorithm>
#include <chrono>
#include <cmath>

#include "server/forms.hpp"

namespace lampside::server {
namespace {

using record::Entry;

Result<int> whole_number(std::string_view name, const std::string& text) {
  const auto value = parse_number(text);
  if (!value || std::floor(*value) != *value || std::fabs(*value) > 1e6)
    return problem("FORM_NUMBER", std::string(name) + ": \"" + text + "\" is not a whole number", "type e.g. 8");
  return static_cast<int>(*value);
}

template <class Enum>
Result<Enum> choice(std::string_view name, const std::string& text) {
  if (const auto value = record::from_name<Enum>(text)) return *value;
  return problem("FORM_CHOICE", std::string(name) + " cannot be \"" + text + "\"", "choose one of those offered");
}

tl::unexpected<Problem> cannot_clear(std::string_view what) {
  return problem("FORM_CLEAR", std::string(what) + " cannot be emptied here, only changed",
                 "to take it back, strike out in the log the entry that set it");
}

/// Reads the settings one by one and keeps what differs from the litter as it is.
class Changes {
 public:
  Changes(const Fields& form, const record::LitterFacts& is) : form_{form}, is_{is} {}

  /// What was typed into `name`, unless the form has no such field or it shows what is there already.
  std::optional<std::string> changed(const std::string& name, const std::string& shown) const {
    if (form_.find(name) == form_.end()) return std::nullopt;
    auto text = typed(form_, name);
    if (text == shown) return std::nullopt;
    return text;
  }
  void text(const std::string& name, const std::optional<std::string>& is, std::optional<std::string>& into) {
    if (auto t = changed(name, is.value_or(""))) into = std::move(*t);
  }

  Result<void> dam();
  void sire() { text("sire_name", is_.sire ? is_.sire->name : std::nullopt, sire_.name); }
  Result<void> vet();
  Result<void> units_and_scale(const record::Litter& litter);
  Result<void> place_and_zone(const Zone& zone, const ZoneCheck& zone_known);

  record::LitterFacts taken() {
    if (!(dam_ == record::Parent{})) out_.dam = dam_;
    if (!(sire_ == record::Parent{})) out_.sire = sire_;
    if (!(vet_ == record::Vet{})) out_.vet = vet_;
    if (!(units_ == record::UnitChoice{})) out_.units = units_;
    return std::move(out_);
  }

 private:
  const Fields& form_;
  const record::LitterFacts& is_;
  record::LitterFacts out_;
  record::Parent dam_, sire_;
  record::Vet vet_;
  record::UnitChoice units_;
};

Result<void> Changes::dam() {
  const auto is = is_.dam.value_or(record::Parent{});
  text("dam_name", is.name, dam_.name);
  if (dam_.name && dam_.name->empty())
    return problem("FORM_NAME", "the dam has no name", "type the name you call her by");
  text("breed", is.breed, dam_.breed);
  if (const auto t = changed("dam_kg", is.kg ? say_number(is.kg->count(), 1) : "")) {
    if (t->empty()) return cannot_clear("her weight");
    const auto grams = parse_weight(*t, WeightUnit::kilograms);
    if (!grams) return tl::unexpected(grams.error());
    dam_.kg = to_kilograms(*grams);
  }
  if (const auto t = changed("dam_born", is.born ? to_iso(*is.born) : "")) {
    if (t->empty()) return cannot_clear("her day of birth");
    const auto day = parse_day(*t);
    if (!day) return tl::unexpected(day.error());
    dam_.born = *day;
  }
  if (const auto t = changed("parity", is.parity ? std::to_string(*is.parity) : "")) {
    if (t->empty()) return cannot_clear("the number of litters before");
    const auto n = whole_number("litters before", *t);
    if (!n) return tl::unexpected(n.error());
    dam_.parity = *n;
  }
  return {};
}

Result<void> Changes::vet() {
  const auto is = is_.vet.value_or(record::Vet{});
  text("vet_phone", is.phone, vet_.phone);
  text("vet_night_phone", is.night_phone, vet_.night_phone);
  if (const auto t = changed("vet_minutes", is.minutes_away ? std::to_string(*is.minutes_away) : "")) {
    if (t->empty()) return cannot_clear("the way to the vet");
    const auto n = whole_number("minutes away", *t);
    if (!n) return tl::unexpected(n.error());
    vet_.minutes_away = *n;
  }
  return {};
}

Result<void> Changes::units_and_scale(const record::Litter& litter) {
  auto units = litter.units();
  if (const auto t = changed("weight_unit", std::string(record::name_of(units.weight)))) {
    const auto unit = choice<WeightUnit>("the unit of weight", *t);
    if (!unit) return tl::unexpected(unit.error());
    units_.weight = units.weight = *unit;
  }
  if (const auto t = changed("temperature_unit", std::string(record::name_of(units.temperature)))) {
    const auto unit = choice<TemperatureUnit>("the unit of temperature", *t);
    if (!unit) return tl::unexpected(unit.error());
    units_.temperature = *unit;
  }
  if (const auto t = changed("scale", is_.scale_g ? say_number(is_.scale_g->count(), 2) + " g" : "")) {
    if (t->empty()) return cannot_clear("the step of the scale");
    const auto step = parse_weight(*t, units.weight);
    if (!step) return tl::unexpected(step.error());
    out_.scale_g = *step;
  }
  return {};
}

Result<void> Changes::place_and_zone(const Zone& zone, const ZoneCheck& zone_known) {
  if (auto t = changed("place", is_.place.value_or(""))) {
    for (char& c : *t)
      if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
    const auto letter = [](char c) { return c >= 'A' && c <= 'Z'; };
    const auto mark = [&](char c) { return letter(c) || (c >= '0' && c <= '9'); };
    const bool right =
        t->empty() ||
        (t->size() >= 2 && t->size() <= 6 && letter((*t)[0]) && letter((*t)[1]) &&
         (t->size() == 2 || (t->size() > 3 && (*t)[2] == '-' && std::all_of(t->begin() + 3, t->end(), mark))));
    if (!right)
      return problem("FORM_PLACE", "\"" + *t + "\" is not a country code",
                     "type two letters, e.g. DE or GB, or with a part: GB-ENG");
    if (*t != is_.place.value_or("")) out_.place = *t;
  }
  if (const auto t = changed("zone", is_.zone.value_or(zone.name())); t && !t->empty()) {
    if (const auto ok = zone_known(*t); !ok) return ok;
    out_.zone = *t;
  }
  return {};
}

bool ascii_word(char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9'); }

}  // namespace

Result<std::optional<Entry>> settings_from(const Fields& form, const Known& known, const ZoneCheck& zone_known) {
  const auto id = typed(form, "id");
  if (const Entry* already = known.find(id)) return std::optional{*already};  // saved twice: the first tap counts
  Changes changes{form, known.litter.facts};
  for (const auto& ok : {changes.dam(), changes.vet(), changes.units_and_scale(known.litter),
                         changes.place_and_zone(known.litter.zone, zone_known)})
    if (!ok) return tl::unexpected(ok.error());
  changes.sire();
  const auto facts = changes.taken();
  if (facts == record::LitterFacts{}) return std::optional<Entry>{};
  const auto now = known.litter.zone.stamp(known.now);
  auto entry = record::make_entry(id, known.litter.key, now, now, known.by, "", facts);
  if (const auto ok = record::check(entry); !ok) return tl::unexpected(ok.error());
  return std::optional{std::move(entry)};
}

std::string litter_key(std::string_view dam_name, int year, const std::vector<std::string>& taken) {
  std::string name;
  for (char c : dam_name) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    if (ascii_word(c) || static_cast<unsigned char>(c) >= 0x80) {
      name += c;
    } else if (!name.empty() && name.back() != '-') {
      name += '-';
    }
  }
  if (name.size() > 40) {
    name.resize(40);
    while (!name.empty() && (static_cast<unsigned char>(name.back()) & 0xC0U) == 0x80U)
      name.pop_back();  // a cut letter
    if (!name.empty() && static_cast<unsigned char>(name.back()) >= 0xC0U) name.pop_back();
  }
  while (!name.empty() && name.back() == '-') name.pop_back();
  const auto base = (name.empty() ? "litter" : name) + "-" + std::to_string(year);
  auto key = base;
  for (int n = 2; std::find(taken.begin(), taken.end(), key) != taken.end(); ++n) key = base + "-" + std::to_string(n);
  return key;
}

Result<std::vector<Entry>> start_from(const Fields& form, const Beginning& beginning) {
  record::LitterFacts facts;
  record::Parent dam;
  dam.name = typed(form, "dam_name");
  if (dam.name->empty()) return problem("FORM_NAME", "the dam has no name yet", "type the name you call her by");
  if (const auto breed = typed(form, "breed"); !breed.empty()) dam.breed = breed;
  facts.dam = dam;
  record::UnitChoice units;
  if (const auto t = typed(form, "weight_unit"); !t.empty()) {
    const auto unit = choice<WeightUnit>("the unit of weight", t);
    if (!unit) return tl::unexpected(unit.error());
    units.weight = *unit;
  }
  if (const auto t = typed(form, "temperature_unit"); !t.empty()) {
    const auto unit = choice<TemperatureUnit>("the unit of temperature", t);
    if (!unit) return tl::unexpected(unit.error());
    units.temperature = *unit;
  }
  if (!(units == record::UnitChoice{})) facts.units = units;
  if (const auto phone = typed(form, "vet_phone"); !phone.empty()) facts.vet = record::Vet{phone, {}, {}};
  facts.zone = typed(form, "zone");
  if (facts.zone->empty()) facts.zone = beginning.local_zone;
  const auto zone = beginning.zone(*facts.zone);
  if (!zone) return tl::unexpected(zone.error());

  std::optional<Stamp> mated;
  if (const auto t = typed(form, "mating_date"); !t.empty()) {
    const auto day = parse_day(t);
    if (!day) return tl::unexpected(day.error());
    const auto at = parse_wall(t, *zone, beginning.now);
    if (!at) return tl::unexpected(at.error());
    mated = *at;
  }
  const auto now = zone->stamp(beginning.now);
  auto key = typed(form, "litter");
  if (std::find(beginning.litters.begin(), beginning.litters.end(), key) != beginning.litters.end())
    return problem("FORM_LITTER_TAKEN", "there is a litter \"" + key + "\" already",
                   "give this one another short name, or leave it empty");
  if (key.empty()) {
    const std::chrono::year_month_day day{
        std::chrono::sys_days{zone->day_of(mated ? mated->instant : now.instant).time_since_epoch()}};
    key = litter_key(*dam.name, static_cast<int>(day.year()), beginning.litters);
  }

  std::vector<Entry> entries{record::make_entry(typed(form, "id"), key, now, now, beginning.by, "", facts)};
  if (mated)
    entries.push_back(
        record::make_entry(beginning.fresh_id(), key, *mated, now, beginning.by, "dam", record::Mating{}));
  if (const auto t = typed(form, "pups"); !t.empty()) {
    const auto pups = whole_number("pups on the X-ray", t);
    if (!pups) return tl::unexpected(pups.error());
    // An X-ray may miss a pup that lies behind another; it seldom shows one too many.
    entries.push_back(record::make_entry(beginning.fresh_id(), key, now, now, beginning.by, "dam",
                                         record::PupCount{record::CountMethod::xray, *pups, true}));
  }
  for (const auto& entry : entries)
    if (const auto ok = record::check(entry); !ok) return tl::unexpected(ok.error());
  return entries;
}

}  // namespace lampside::server
