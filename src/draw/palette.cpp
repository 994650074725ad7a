#include "draw/palette.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace lampside::draw {
namespace {

struct Named {
  std::string_view word;  ///< lower case, letters and single spaces
  Colour colour;
};

constexpr std::array kInks{Named{"ink", kInk},     Named{"muted", kMuted}, Named{"mate", kMate},
                           Named{"hair", kHair},   Named{"grid", kGrid},   Named{"wash", kWash},
                           Named{"paper", kPaper}, Named{"alarm", kAlarm}, Named{"night", kNight},
                           Named{"hill", kHill},   Named{"half", kHalf}};

// What the ribbons of a litter look like in daylight; our own choice of values.
constexpr std::array kCollars{
    Named{"red", {214, 40, 40}},          Named{"dark red", {139, 20, 28}},      Named{"maroon", {128, 24, 44}},
    Named{"burgundy", {112, 20, 46}},     Named{"orange", {244, 126, 20}},       Named{"peach", {255, 190, 150}},
    Named{"coral", {250, 120, 98}},       Named{"yellow", {250, 212, 38}},       Named{"gold", {214, 168, 40}},
    Named{"lime", {158, 210, 40}},        Named{"light green", {140, 214, 130}}, Named{"mint", {160, 226, 194}},
    Named{"green", {38, 150, 70}},        Named{"dark green", {16, 92, 48}},     Named{"olive", {122, 124, 44}},
    Named{"teal", {16, 134, 134}},        Named{"turquoise", {44, 196, 194}},    Named{"light blue", {120, 190, 240}},
    Named{"sky blue", {112, 186, 238}},   Named{"blue", {36, 96, 200}},          Named{"dark blue", {24, 48, 124}},
    Named{"navy", {24, 40, 100}},         Named{"purple", {118, 50, 158}},       Named{"violet", {136, 72, 190}},
    Named{"lilac", {196, 160, 222}},      Named{"lavender", {186, 166, 230}},    Named{"pink", {246, 140, 184}},
    Named{"light pink", {250, 190, 212}}, Named{"dark pink", {214, 50, 124}},    Named{"hot pink", {236, 44, 140}},
    Named{"magenta", {204, 36, 150}},     Named{"brown", {122, 76, 40}},         Named{"tan", {204, 168, 122}},
    Named{"beige", {226, 208, 176}},      Named{"cream", {246, 234, 204}},       Named{"black", {34, 34, 34}},
    Named{"grey", {138, 138, 138}},       Named{"gray", {138, 138, 138}},        Named{"silver", {190, 194, 200}},
    Named{"white", {255, 255, 255}}};

constexpr std::array kTellApart{Colour{0, 114, 178},   Colour{213, 94, 0},   Colour{0, 158, 115},
                                Colour{204, 121, 167}, Colour{86, 180, 233}, Colour{230, 159, 0}};

bool is_letter(char c) { return (c >= 'a' && c <= 'z') || static_cast<unsigned char>(c) >= 0x80; }

/// Lower case, everything that is not a letter a single space, so that "Light-Blue" is "light blue".
std::string plain_words(std::string_view text) {
  std::string out;
  for (char c : text) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    if (is_letter(c))
      out += c;
    else if (!out.empty() && out.back() != ' ')
      out += ' ';
  }
  return out;
}

bool holds_word(std::string_view text, std::string_view word) {
  for (auto at = text.find(word); at != std::string_view::npos; at = text.find(word, at + 1)) {
    const auto end = at + word.size();
    if ((at == 0 || !is_letter(text[at - 1])) && (end == text.size() || !is_letter(text[end]))) return true;
  }
  return false;
}

double channel(unsigned char c) {
  const double s = c / 255.0;
  return s <= 0.03928 ? s / 12.92 : std::pow((s + 0.055) / 1.055, 2.4);
}
double luminance(Colour c) { return 0.2126 * channel(c.r) + 0.7152 * channel(c.g) + 0.0722 * channel(c.b); }

Colour mix(Colour a, Colour b, double part_of_b) {
  const auto one = [&](unsigned char x, unsigned char y) {
    return static_cast<unsigned char>(std::lround(x + (y - x) * part_of_b));
  };
  return {one(a.r, b.r), one(a.g, b.g), one(a.b, b.b)};
}

/// Moves a colour towards `away` until it stands out from `ground`.
Colour until_seen(Colour colour, Colour away, Colour ground, double ratio) {
  for (int step = 0; step <= 20; ++step) {
    const Colour tried = mix(colour, away, step / 20.0);
    if (contrast(tried, ground) >= ratio) return tried;
  }
  return away;
}

constexpr Colour kDarkGround{20, 18, 16};

std::string css_rule(std::string_view scope, std::string_view name, Colour colour) {
  const std::string sep = scope.empty() ? "" : " ";
  const auto hex = fmt::format("#{:02x}{:02x}{:02x}", colour.r, colour.g, colour.b);
  return fmt::format("{0}{1}.f-{2}{{fill:{3}}}{0}{1}.s-{2}{{stroke:{3}}}\n", scope, sep, name, hex);
}

}  // namespace

double contrast(Colour a, Colour b) {
  const double x = luminance(a), y = luminance(b);
  return (std::max(x, y) + 0.05) / (std::min(x, y) + 0.05);
}

std::optional<Colour> swatch_of(std::string_view collar) {
  const std::string words = plain_words(collar);
  const Named* best = nullptr;
  for (const auto& known : kCollars)
    if (holds_word(words, known.word) && (!best || known.word.size() > best->word.size())) best = &known;
  if (!best) return std::nullopt;
  return best->colour;
}

Colour line_of(Colour swatch) { return until_seen(swatch, Colour{0, 0, 0}, kPaper, 3.0); }

Colour line_colour(std::string_view collar, std::size_t n) {
  const auto swatch = swatch_of(collar);
  return line_of(swatch ? *swatch : kTellApart[n % kTellApart.size()]);
}

std::string_view name_of(Colour colour) {
  for (const auto& ink : kInks)
    if (ink.colour == colour) return ink.word;
  static const auto lines = [] {
    std::vector<std::pair<Colour, std::string>> out;
    for (const auto& collar : kCollars) {
      std::string name{collar.word};
      std::replace(name.begin(), name.end(), ' ', '-');
      out.emplace_back(line_of(collar.colour), std::move(name));
    }
    for (std::size_t i = 0; i < kTellApart.size(); ++i)
      out.emplace_back(line_of(kTellApart[i]), fmt::format("pup-{}", i + 1));
    return out;
  }();
  for (const auto& [line, name] : lines)
    if (line == colour) return name;
  return {};
}

std::string dark_css(std::string_view scope) {
  constexpr std::array kDarkInks{
      Named{"ink", {232, 226, 216}}, Named{"muted", {176, 168, 156}}, Named{"mate", {120, 114, 106}},
      Named{"hair", {90, 84, 78}},   Named{"grid", {56, 52, 48}},     Named{"wash", {34, 31, 28}},
      Named{"paper", kDarkGround},   Named{"alarm", {255, 138, 110}}, Named{"night", {32, 29, 26}},
      Named{"hill", {110, 84, 56}},  Named{"half", {214, 150, 84}}};
  std::string out;
  for (const auto& ink : kDarkInks) out += css_rule(scope, ink.word, ink.colour);
  std::vector<std::string_view> done;
  const auto add = [&](Colour seen_by_day, Colour swatch) {
    const auto name = name_of(seen_by_day);
    if (std::find(done.begin(), done.end(), name) != done.end()) return;
    done.push_back(name);
    out += css_rule(scope, name, until_seen(swatch, kPaper, kDarkGround, 4.5));
  };
  for (const auto& collar : kCollars) add(line_of(collar.colour), collar.colour);
  for (const auto& colour : kTellApart) add(line_of(colour), colour);
  return out;
}

}  // namespace lampside::draw
