#include "supplies/stock.hpp"

#include <algorithm>
#include <map>

#include "measure/text.hpp"
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

void lay_over(Stock& base, const Stock& top) {
  const auto one = [&](const auto& f) {
    using V = std::remove_cvref_t<decltype(top.*(f.member))>;
    if constexpr (record::is_optional<V>::value)
      if (top.*(f.member)) base.*(f.member) = top.*(f.member);
  };
  std::apply([&](const auto&... f) { (one(f), ...); }, record::Shape<Stock>::fields);
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
  std::map<std::string, std::size_t> place;
  for (const auto& entry : litter.stock) {
    const auto* row = row_of(reference, entry.what.item);
    const std::string name = row ? std::string(row->item) : entry.what.item;
    const auto [at, fresh] = place.try_emplace(plain(name), out.size());
    if (fresh) {
      Kept kept{row, {}, entry.at};
      kept.what.item = name;
      out.push_back(std::move(kept));
    }
    Kept& kept = out[at->second];
    lay_over(kept.what, entry.what);
    if (entry.what.have || entry.what.where) kept.seen = entry.at;
  }
  return out;
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
