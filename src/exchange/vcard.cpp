#include "exchange/vcard.hpp"

#include <algorithm>
#include <cctype>
#include <optional>

#include "exchange/calendar.hpp"
#include "exchange/lines.hpp"

namespace lampside::exchange {
namespace {

constexpr std::size_t kMostCards = 1000;

/// The parts of a value between unescaped separators, each unescaped.
std::vector<std::string> parts_of(std::string_view value, char separator) {
  std::vector<std::string> out(1);
  for (std::size_t i = 0; i < value.size(); ++i) {
    if (value[i] == '\\' && i + 1 < value.size()) {
      const char c = value[++i];
      out.back() += c == 'n' || c == 'N' ? '\n' : c;
    } else if (separator != '\0' && value[i] == separator) {
      out.emplace_back();
    } else {
      out.back() += value[i];
    }
  }
  return out;
}
std::string unescaped(std::string_view value) { return parts_of(value, '\0').front(); }

std::string joined(const std::vector<std::string>& parts, std::string_view between) {
  std::string out;
  for (const auto& part : parts)
    if (!part.empty()) out += (out.empty() ? "" : std::string(between)) + part;
  return out;
}

std::string upper(std::string_view text) {
  std::string out{text};
  for (auto& c : out) c = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
  return out;
}

struct Property {
  std::string name;  ///< in capitals, without its group
  std::string value;
};
/// "item1.TEL;TYPE=\"a:b\":+44 ..." by RFC 6350, section 3.3; nothing where there is no colon.
std::optional<Property> property_of(const std::string& line) {
  bool quoted = false;
  std::size_t colon = std::string::npos;
  for (std::size_t i = 0; i < line.size() && colon == std::string::npos; ++i) {
    if (line[i] == '"') quoted = !quoted;
    if (line[i] == ':' && !quoted) colon = i;
  }
  if (colon == std::string::npos) return std::nullopt;
  std::string name = upper(std::string_view{line}.substr(0, std::min(colon, line.find(';'))));
  if (const auto dot = name.rfind('.'); dot != std::string::npos) name = name.substr(dot + 1);
  return Property{name, line.substr(colon + 1)};
}

void add(std::string& all, const std::string& more) {
  if (!more.empty()) all += (all.empty() ? "" : ", ") + more;
}

void take(record::Person& person, std::string& fallback, const Property& property) {
  const auto& [name, value] = property;
  if (name == "FN" && person.name.empty()) person.name = unescaped(value);
  if (name == "N") {
    auto n = parts_of(value, ';');  // family, given, additional, prefixes, suffixes
    n.resize(5);
    fallback = joined({n[3], n[1], n[2], n[0], n[4]}, " ");
  }
  if (name == "TEL") {
    const std::string number = unescaped(value);
    add(person.phone, upper(number.substr(0, 4)) == "TEL:" ? number.substr(4) : number);
  }
  if (name == "EMAIL") add(person.email, unescaped(value));
  if (name == "ADR") {
    const auto adr = joined(parts_of(value, ';'), "\n");
    person.address += (person.address.empty() || adr.empty() ? "" : "\n") + adr;
  }
  if (name == "NOTE") person.note += (person.note.empty() ? "" : "\n") + unescaped(value);
  if (name == "UID") person.family = unescaped(value);
  if (name == "X-LAMPSIDE-CONSENT") person.consent = upper(value) == "TRUE";
  if (name == "X-LAMPSIDE-KEEP-UNTIL")
    if (const auto day = parse_day(value)) person.keep_until = *day;
}

}  // namespace

std::string to_vcard(const record::Person& person) {
  std::string out;
  const auto line = [&](std::string_view name, const std::string& value) {
    if (!value.empty()) out += fold_line(std::string(name) + ":" + value);
  };
  line("BEGIN", "VCARD");
  line("VERSION", "4.0");
  line("UID;VALUE=text", escape_text(person.family));
  out += fold_line("FN:" + escape_text(person.name));  // must be there, even if nobody told their name
  line("TEL;VALUE=text", escape_text(person.phone));
  line("EMAIL", escape_text(person.email));
  if (!person.address.empty()) line("ADR", ";;" + escape_text(person.address) + ";;;;");
  line("NOTE", escape_text(person.note));
  if (person.keep_until) line("X-LAMPSIDE-KEEP-UNTIL", to_iso(*person.keep_until));
  line("X-LAMPSIDE-CONSENT", person.consent ? "TRUE" : "FALSE");
  line("END", "VCARD");
  return out;
}

Result<std::vector<record::Person>> read_vcards(std::istream& in) {
  LineReader reader{in};
  std::vector<record::Person> out;
  std::optional<record::Person> card;
  std::string fallback, version;
  const auto wrong = [](std::size_t line, std::string code, std::string what, std::string todo) {
    return tl::unexpected(at_line(line, {std::move(code), std::move(what), std::move(todo)}));
  };
  const auto finish = [&](const std::string& text, std::size_t line) -> Result<void> {
    if (text.empty()) return {};
    const auto property = property_of(text);
    if (!property)
      return wrong(line, "VCARD_SHAPE", "this is no line of a vCard: there is no colon in it",
                   "export the contact from the telephone once more, as vCard");
    const auto said = upper(property->value);
    if (property->name == "BEGIN" && said == "VCARD") {
      if (card)
        return wrong(line, "VCARD_SHAPE", "a card begins before the last one has ended",
                     "the file is cut off: export it again");
      card.emplace();
      fallback.clear(), version.clear();
    } else if (!card) {
      return wrong(line, "VCARD_SHAPE", "this is no vCard: it does not begin with BEGIN:VCARD",
                   "export the contact from the telephone as vCard");
    } else if (property->name == "END") {
      if (version != "3.0" && version != "4.0")
        return wrong(line, "VCARD_VERSION", "the card is of another version than 3.0 or 4.0",
                     "export it as vCard 3.0 or 4.0, or type it");
      if (card->name.empty()) card->name = fallback;
      if (card->name.empty() && card->family.empty())
        return wrong(line, "VCARD_NAME", "the card names nobody", "write a name into the contact first");
      if (out.size() >= kMostCards)
        return wrong(line, "VCARD_SHAPE", "there are more than 1000 cards", "export only the families' contacts");
      out.push_back(std::move(*card));
      card.reset();
    } else if (property->name == "VERSION") {
      version = property->value;
    } else {
      take(*card, fallback, *property);
    }
    return {};
  };
  std::string whole, next;
  std::size_t began = 1;
  for (;;) {  // a line that begins with a blank goes on with the one before (RFC 6350, section 3.2)
    const auto more = reader.next(next);
    if (!more) return tl::unexpected(more.error());
    if (*more && !next.empty() && (next.front() == ' ' || next.front() == '\t')) {
      whole += next.substr(1);
      continue;
    }
    if (const auto ok = finish(whole, began); !ok) return tl::unexpected(ok.error());
    if (!*more) break;
    whole = std::move(next);
    began = reader.line();
  }
  if (card)
    return wrong(reader.line(), "VCARD_SHAPE", "the last card has no END:VCARD",
                 "the file is cut off: export it again");
  if (out.empty()) return problem("VCARD_EMPTY", "there is no card in it", "paste the whole vCard, from BEGIN to END");
  return out;
}

}  // namespace lampside::exchange
