#include "supplies/stock.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "care/given.hpp"
#include "care/label.hpp"
#include "measure/text.hpp"
#include "nest/milk.hpp"
#include "record/fields.hpp"

namespace lampside::supplies {
namespace {

using record::Stock;
using reference::Reference;
using reference::SupplyItem;

std::string plain(std::string_view text) {
  std::string out;
  for (const char c : text) {
    if ((c == ' ' || c == '\t') && (out.empty() || out.back() == ' ')) continue;
    out += c == '\t' ? ' ' : c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  }
  while (!out.empty() && out.back() == ' ') out.pop_back();
  return out;
}

bool is_word_of(std::string_view words, std::string_view word) {
  for (auto at = words.find(word); at != std::string_view::npos; at = words.find(word, at + 1)) {
    const bool begins = at == 0 || words[at - 1] == ' ';
    const bool ends = at + word.size() == words.size() || words[at + word.size()] == ' ';
    if (begins && ends) return true;
  }
  return false;
}

/// What is cleared goes first: the same entry may say anew what it clears.
void lay_over(Stock& base, const Stock& top) {
  const std::string_view cleared = top.cleared ? std::string_view(*top.cleared) : std::string_view{};
  const auto one = [&](const auto& f) {
    using V = std::remove_cvref_t<decltype(top.*(f.member))>;
    if constexpr (record::is_optional<V>::value) {
      if (is_word_of(cleared, f.name)) base.*(f.member) = {};
      if (top.*(f.member)) base.*(f.member) = top.*(f.member);
    }
  };
  std::apply([&](const auto&... f) { (one(f), ...); }, record::Shape<Stock>::fields);
  base.used.reset(), base.cleared.reset();  // said once, not a thing's state
}

using Doses = care::Doses;

/// What one dog had since then of the product that bears the item's name, in the item's unit.
double of_its_name(const Doses& doses, const Stock& item, std::string_view unit, Instant since) {
  double out = 0;
  for (const auto& d : doses) {
    if (d.at <= since || plain(d.what.product) != plain(item.item)) continue;
    const auto in = unit == "ml" ? care::Measured::ml : unit == "g" ? care::Measured::grams : care::Measured::tablets;
    if (const auto portion = care::portion_given(d.what, in)) out += portion->count;
  }
  return out;
}

/// Courses of worming one dog began since then: days of dosing, by the label's days in a row.
double courses(const Doses& doses, const record::Litter& litter, Instant since) {
  std::map<std::string, std::set<CivilDay>> days;
  for (const auto& d : doses)
    if (d.at > since && care::is_wormer(d.what, litter)) days[d.what.product].insert(litter.zone.day_of(d.at));
  double out = 0;
  for (const auto& [product, on] : days) {
    double in_row = 1;
    for (const auto& label : litter.products)
      if (label.what.name == product) in_row = label.what.days_in_row.value_or(1);
    out += std::ceil(static_cast<double>(on.size()) / in_row);
  }
  return out;
}

/// Powder in the feeds by hand since then. A tin that says no proportion may be ready to feed: then none.
double powder_fed(const record::Litter& litter, const Reference& reference, Instant since) {
  double out = 0;
  for (const auto& pup : litter.pups)
    for (const auto& feed : pup.feeds) {
      if (feed.at <= since || feed.what.by == record::FeedWay::nursing) continue;
      const auto* tin = nest::milk_label(litter, feed.at);
      const auto mix = tin ? nest::to_mix(tin->what, feed.what.ml, reference) : std::nullopt;
      if (mix) out += mix->powder.count();
    }
  return out;
}

/// What the journal says elsewhere of what was taken from an item since it was counted.
double taken(const Kept& kept, const record::Litter& litter, const Reference& reference, Instant since) {
  double out = 0;
  const std::string_view unit = kept.row         ? kept.row->unit
                                : kept.what.unit ? std::string_view(*kept.what.unit)
                                                 : std::string_view{};
  const auto each = [&](const Doses& doses) {
    if (kept.row && kept.row->course == "worming") out += courses(doses, litter, since);
    if (!kept.row) out += of_its_name(doses, kept.what, unit, since);
  };
  for (const auto& pup : litter.pups) each(pup.doses);
  each(litter.dam_doses);
  if (kept.row && kept.row->course == "replacer") out += powder_fed(litter, reference, since);
  return out;
}

bool is_letter(char c) { return (c >= 'a' && c <= 'z') || static_cast<unsigned char>(c) >= 0x80; }

}  // namespace

const SupplyItem* row_of(const Reference& reference, std::string_view name) {
  const auto wanted = plain(name);
  for (const auto& row : reference.supplies)
    if (row.item == wanted || (!row.also.empty() && plain(row.also) == wanted) || plain(row.item) == wanted)
      return &row;
  return nullptr;
}

std::string_view unit_of(const record::Litter& litter, const Reference& reference, std::string_view name) {
  if (const auto* row = row_of(reference, name)) return row->unit;
  std::string_view unit;
  for (const auto& entry : litter.stock)
    if (entry.what.unit && plain(entry.what.item) == plain(name)) unit = *entry.what.unit;
  return unit;
}
bool is_vet_only(const Reference& reference, std::string_view name) {
  const auto said = plain(name);
  for (const auto& row : reference.supplies) {
    if (!row.is("vet_only")) continue;
    const auto word = row.item.substr(0, std::min(row.item.find(','), row.item.size()));
    for (auto at = said.find(word); at != std::string::npos; at = said.find(word, at + 1)) {
      const bool begins = at == 0 || !is_letter(said[at - 1]);
      const bool ends = at + word.size() == said.size() || !is_letter(said[at + word.size()]);
      if (begins && ends) return true;
    }
  }
  return false;
}

std::vector<Kept> inventory(const record::Litter& litter, const Reference& reference) {
  std::vector<Kept> out;
  std::vector<double> used;
  std::vector<Instant> counted;
  std::map<std::string, std::size_t> place;
  for (const auto& entry : litter.stock) {
    const auto* row = row_of(reference, entry.what.item);
    const std::string name = row ? std::string(row->item) : entry.what.item;
    const auto [at, fresh] = place.try_emplace(plain(name), out.size());
    if (fresh) {
      Kept kept{row, {}, entry.at};
      kept.what.item = name;
      out.push_back(std::move(kept));
      used.push_back(0), counted.push_back(entry.at);
    }
    const auto n = at->second;
    lay_over(out[n].what, entry.what);
    if (entry.what.have) used[n] = 0, counted[n] = entry.at;
    if (entry.what.used) used[n] += entry.what.used->count();
    if (entry.what.have || entry.what.where) out[n].seen = entry.at;
  }
  for (std::size_t n = 0; n < out.size(); ++n) {
    Kept& kept = out[n];
    const double told = taken(kept, litter, reference, counted[n]);
    kept.begun = used[n] + told > 0;
    // Never counted, but there: one of it, as everywhere, which is gone only when somebody says so.
    const bool there = kept.what.where == record::Keeping::kit || kept.what.where == record::Keeping::house;
    double left = 0;
    if (kept.what.have)
      left = kept.what.have->count() - used[n] - told;
    else if (there && used[n] > 0)
      left = 1 - used[n];
    else
      continue;
    kept.what.have = Amount{std::max(0.0, std::round(left * 1000) / 1000)};
  }
  return out;
}

std::optional<CivilDay> use_by(const Stock& item) { return care::use_by(item.expires, item.opened, item.keeps_open_d); }

Amount usable(const Stock& item, Amount have, CivilDay day) {
  if (item.expires && *item.expires <= day) return Amount{0};
  const auto last = use_by(item);
  if (!last || *last > day) return have;
  if (!item.pack) return Amount{0};
  const double packs = std::ceil(have.count() / item.pack->count() - 1e-9);
  return Amount{std::max(0.0, packs - 1) * item.pack->count()};
}

bool finished(const record::Litter& litter, Instant now) {
  constexpr Span kOld = std::chrono::hours{24 * 42};
  return !litter.pups.empty() && std::all_of(litter.pups.begin(), litter.pups.end(), [&](const record::Pup& p) {
    return !p.in_box() || now - p.birth.at >= kOld;
  });
}

std::vector<Stock> opening_stock(const record::Litter& earlier, const Reference& reference, CivilDay day) {
  std::vector<Stock> out;
  for (auto& kept : inventory(earlier, reference)) {
    Stock next = kept.what;
    const bool out_of_date = next.expires && *next.expires <= day;
    if (out_of_date) next.have = Amount{0}, next.expires.reset(), next.where = record::Keeping::to_buy;
    if (const auto last = use_by(next); last && *last <= day) {  // what is open goes, what is closed comes along
      if (next.have) next.have = usable(next, *next.have, day);
      next.opened.reset();
    }
    next.from = earlier.key;
    out.push_back(std::move(next));
  }
  return out;
}

Result<Amount> parse_amount(std::string_view text, std::string_view unit, std::optional<Amount> pack) {
  const auto typed = plain(text);
  if (typed.starts_with('-') || typed.starts_with("\xE2\x88\x92"))
    return problem("AMOUNT_NEGATIVE", "\"" + typed + "\" is less than nothing", "type how much is there, 0 or more");
  const auto from = static_cast<std::size_t>(std::find_if(typed.begin(), typed.end(), is_letter) - typed.begin());
  const auto number = parse_number(typed.substr(0, from));
  if (!number) return tl::unexpected(number.error());
  const auto word = typed.substr(from);
  const auto same = [&](std::string_view a, std::string_view b) {
    return a == b || a == std::string(b) + "s" || std::string(a) + "s" == b;
  };
  if (word.empty() || same(word, unit) || (unit.empty() && (word == "pieces" || word == "piece" || word == "x")))
    return Amount{*number};
  if (same(word, "pack") || same(word, "packet") || same(word, "box") || word == "boxes") {
    if (pack) return Amount{*number * pack->count()};
    return problem(
        "AMOUNT_PACK", "\"" + typed + "\": how much is in one pack is not known",
        "fill in \"in one pack\" first, or type the whole amount" + (unit.empty() ? "" : " in " + std::string(unit)));
  }
  if (word == "kg" && unit == "g") return Amount{*number * 1000};
  if (word == "g" && unit == "kg") return Amount{*number / 1000};
  return problem(
      "AMOUNT_UNIT", "\"" + typed + "\": this item is counted in " + (unit.empty() ? "pieces" : std::string(unit)),
      "type a number" + (unit.empty() ? std::string{} : ", with " + std::string(unit) + " or without a unit"));
}

}  // namespace lampside::supplies
