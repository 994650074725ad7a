// What every printed sheet shares: the size, the margins, fields to write in, text from the reference tables.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "advice/assessment.hpp"
#include "draw/canvas.hpp"
#include "draw/palette.hpp"
#include "paper/forms.hpp"
#include "record/litter.hpp"
#include "reference/tables.hpp"

namespace lampside::paper {

using draw::Align;
using draw::Area;
using draw::Canvas;
using draw::Colour;
using draw::Font;
using draw::Pen;
using draw::Point;

/// Points of so many millimetres. Everything on paper is thought in millimetres.
constexpr double mm(double millimetres) { return millimetres * 72 / 25.4; }

inline const Pen kHairline{draw::kHair, 0.5, {}};
inline const Pen kRule{draw::kMuted, 0.9, {}};
constexpr double kMargin = mm(13);

/// A row that a thick pen can write in.
constexpr double kWritable = mm(7.2);

/// One form laid out: pages that draw themselves into the area between title and foot.
struct Form {
  std::string title;
  draw::Size paper;
  std::vector<std::function<void(Canvas&, Area)>> pages;
  bool nameless = false;  ///< goes to strangers: no vet's number, no litter's name about it
};

/// What a form is made from. `ruler` measures text in the paper's font before any page exists.
struct Made {
  const record::Litter& litter;
  const advice::Assessment& assessment;
  const reference::Reference& reference;
  Sheet sheet;
  const Canvas& ruler;
  const Given& given;
};

Form weights_to_fill(const Made& made);
Form weights(const Made& made);
Form growth_sheet(const Made& made);
Form whelping_log(const Made& made);
Form dam_temperature(const Made& made);
Form when_home(const Made& made);
Form call_sheet(const Made& made);
Form shopping_list(const Made& made);
Form packing_list(const Made& made);
Form litter_record(const Made& made);
Form dosing_round(const Made& made);
Form turns(const Made& made);
Form milk_by_hand(const Made& made);
Form pup_sheet(const Made& made);
Form folder(const Made& made);

enum class Turn { portrait, landscape };
draw::Size paper_size(Sheet sheet, Turn turn);
/// The area between title and foot of such a sheet.
Area body_of(draw::Size paper);
/// Title, dam, litter, vet above; the caution, the moment and the page number below.
void draw_surround(Canvas& canvas, const Form& form, const Made& made, std::size_t page);

/// "Mon 2 Mar 2026".
std::string say_date(CivilDay day);
/// The figure without its unit, for a cell under a heading that names it: "412", "14⅜", "1 lb 2".
std::string bare(Grams grams, WeightUnit unit);
std::string_view unit_word(WeightUnit unit);                      ///< "g", "oz"
std::string_view say_sex(const std::optional<record::Sex>& sex);  ///< "bitch", "dog", empty when not known

/// A pup's column or row: with collar colour as a spot and as a word. `pup` null: blank, to name by hand.
struct Place {
  const record::Pup* pup = nullptr;
  [[nodiscard]] std::string label() const { return pup ? pup->label : ""; }
  [[nodiscard]] std::string collar() const { return pup ? pup->collar() : ""; }
};
/// The spot of a collar: its colour with an outline, an empty ring for a colour that is not known.
void draw_spot(Canvas& canvas, Point centre, double radius, std::string_view collar);

/// A table's cell text, centred on the row, shrunk and then cut so that it stays inside. For words only.
void draw_cell(Canvas& canvas, Area cell, std::string_view text, Font font, Align align = Align::centre,
               double smallest = 5.6);

/// A pup's name in a narrow head: on one line, or on two in small letters.
void draw_name(Canvas& canvas, Area cell, std::string_view name, double size);

/// Letters for a table of figures: the largest up to `size` with which every figure fits in `width`. A figure is never
/// cut ("1 lb 1…" would be read as another weight), and one size for all is easier to read down a column.
double figure_size(const Canvas& ruler, const std::vector<std::string>& figures, double size, double width);
void draw_figure(Canvas& canvas, Area cell, std::string_view figure, Font font, Align align = Align::centre);

/// "Caption ______" with what is known already on the line. Returns where the next field may begin.
double draw_field(Canvas& canvas, Point baseline, std::string_view caption, double line_width, std::string_view known);

/// Words in one font after another, broken into lines. Returns the height; draws nothing without a canvas.
struct Run {
  std::string text;
  Font font;
};
double paragraph(Canvas* canvas, const Canvas& ruler, Point top_left, double width, const std::vector<Run>& runs);

/// A rule of the tables as a paragraph: its headline, what to do, where it comes from.
template <class Limit>
std::vector<Run> rule_runs(const reference::Rule<Limit>& rule, double size) {
  const auto standing = rule.source.standing;
  const bool doubtful =
      standing == reference::Standing::common_practice || standing == reference::Standing::from_memory;
  const std::string source =
      "(" + std::string(rule.source.work) + (doubtful ? "; " + std::string(reference::name_of(standing)) : "") + ")";
  return {{std::string(rule.words.headline) + ".", {size, draw::Weight::bold, draw::kInk}},
          {std::string(rule.words.do_now), {size, draw::Weight::regular, draw::kInk}},
          {source, {size * 0.9, draw::Weight::regular, draw::kMuted}}};
}

/// Splits `count` things over the fewest sheets that hold at most `most` each, as evenly as can be: sizes of the
/// shares.
std::vector<std::size_t> shares(std::size_t count, std::size_t most);

/// The last weight of that pup on each civil day from `first` on: what a daily table shows.
std::optional<Grams> weight_on(const record::Litter& litter, const record::Pup& pup, CivilDay day);
/// The day from which the pup is no longer weighed, and why ("died", "left"); none while it is in the box.
struct Gone {
  CivilDay day;
  std::string_view word;
};
std::optional<Gone> gone(const record::Litter& litter, const record::Pup& pup);

}  // namespace lampside::paper
