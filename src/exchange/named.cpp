#include "exchange/named.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <nlohmann/json.hpp>

namespace lampside::exchange {
namespace {

constexpr std::string_view kInstead = "[erased]";
/// What is no free words: pointers, times, and who wrote.
constexpr std::array<std::string_view, 12> kFixed{"id",         "litter", "kind",     "at",     "written", "by",
                                                  "written_by", "about",  "corrects", "family", "sha256",  "receipt"};
constexpr std::array<std::string_view, 7> kNoNames{"The", "Family", "Mr", "Mrs", "Ms", "Miss", "Dr"};

bool letter(char c) {
  return std::isalnum(static_cast<unsigned char>(c)) != 0 || static_cast<unsigned char>(c) >= 0x80;
}
bool same(char a, char b, bool any_case) {
  if (a == b) return true;
  return any_case && std::tolower(static_cast<unsigned char>(a)) == std::tolower(static_cast<unsigned char>(b));
}

/// The length of `name` at that place of `text`, with a plural or a genitive after it; 0: it does not stand there.
std::size_t stands(std::string_view text, std::size_t at, std::string_view name, bool any_case) {
  if (at > 0 && letter(text[at - 1]) && letter(name.front())) return 0;
  if (text.size() - at < name.size()) return 0;
  for (std::size_t i = 0; i < name.size(); ++i)
    if (!same(text[at + i], name[i], any_case)) return 0;
  std::size_t end = at + name.size();
  for (const std::string_view more : {"'s", "s"})
    if (text.substr(end, more.size()) == more && (end + more.size() == text.size() || !letter(text[end + more.size()])))
      return end + more.size() - at;
  return end < text.size() && letter(text[end]) && letter(name.back()) ? 0 : end - at;
}

std::string without(std::string_view text, const std::vector<std::string>& names) {
  std::string out;
  for (std::size_t at = 0; at < text.size();) {
    std::size_t length = 0;
    // A whole name (with a blank in it) counts however it is written; a single word might be any word.
    for (const auto& name : names)
      length = std::max(length, stands(text, at, name, name.find(' ') != std::string::npos));
    if (length > 0)
      out += kInstead;
    else
      out += text[at];
    at += std::max<std::size_t>(length, 1);
  }
  return out;
}

}  // namespace

std::vector<std::string> names_of(const record::Person& person) {
  std::vector<std::string> out;
  const auto add = [&](std::string_view name) {
    if (name.size() >= 3 && std::find(out.begin(), out.end(), name) == out.end()) out.emplace_back(name);
  };
  add(person.name);
  std::string word;
  for (const char c : person.name + " ") {
    if (letter(c) || ((c == '-' || c == '\'') && !word.empty())) {
      word += c;
      continue;
    }
    const bool small = !word.empty() && std::islower(static_cast<unsigned char>(word.front())) != 0;
    if (!small && std::find(kNoNames.begin(), kNoNames.end(), word) == kNoNames.end()) add(word);
    word.clear();
  }
  add(person.phone);
  std::string digits;
  for (const char c : person.phone)
    if (c != ' ' && c != '-') digits += c;
  add(digits);
  add(person.email);
  return out;
}

std::vector<Named> naming(const record::Litter& litter, const record::Person& person, CivilDay today) {
  std::vector<Named> out;
  const auto names = names_of(person);
  for (const auto* entries : {&litter.log, &litter.struck})
    for (const auto& e : *entries) {
      auto line = record::encode(e);
      Named found;
      for (auto& [key, value] : line.items()) {
        if (!value.is_string() || std::find(kFixed.begin(), kFixed.end(), key) != kFixed.end()) continue;
        const auto said = value.get<std::string>();
        auto left = without(said, names);
        if (left == said) continue;
        found.says += (found.says.empty() ? "" : "; ") + said;
        value = std::move(left);
      }
      if (found.says.empty()) continue;
      line["name_out"] = to_iso(today);
      auto entry = record::decode(line);
      if (!entry) continue;  // the words are a choice among few, no free words
      found.without = std::move(*entry);
      found.struck = entries == &litter.struck;
      out.push_back(std::move(found));
    }
  return out;
}

bool same_but_for_a_name(const record::Entry& one, const record::Entry& other) {
  if (!one.extra.json().contains("name_out") && !other.extra.json().contains("name_out")) return false;
  auto a = record::encode(one), b = record::encode(other);
  a.erase("name_out"), b.erase("name_out");
  for (const auto& [key, value] : a.items()) {
    const auto there = b.find(key);
    if (there == b.end() || there->type() != value.type()) return false;
    const bool words = value.is_string() && std::find(kFixed.begin(), kFixed.end(), key) == kFixed.end();
    if (!words && *there != value) return false;
  }
  return a.size() == b.size();
}

}  // namespace lampside::exchange
