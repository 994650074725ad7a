// Colours: the few inks every drawing uses, and the collar colours of the pups.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "draw/canvas.hpp"

namespace lampside::draw {

inline constexpr Colour kInk{26, 26, 26};      ///< text and what matters
inline constexpr Colour kMuted{92, 92, 92};    ///< secondary text; 6.7 : 1 on white
inline constexpr Colour kMate{150, 150, 150};  ///< the litter mates of a highlighted pup
inline constexpr Colour kHair{176, 176, 176};  ///< hairlines to write between
inline constexpr Colour kGrid{222, 222, 222};  ///< grid behind a chart
inline constexpr Colour kWash{243, 243, 243};  ///< a field that is not to be filled in
inline constexpr Colour kPaper{255, 255, 255};
inline constexpr Colour kNight{226, 228, 236};  ///< the hours of night behind the due strip
inline constexpr Colour kHill{168, 174, 194};   ///< the chance of the first pup
inline constexpr Colour kHalf{78, 88, 122};     ///< its likelier half
inline constexpr Colour kAlarm{176, 32, 24};    ///< limits; always with words or a dash beside it

/// What a collar of that colour looks like: "red", "Light Blue", "dark green with bell". Knows colour words anywhere in
/// the text, the longest one wins. Nothing for words it does not know (a pattern, a name).
std::optional<Colour> swatch_of(std::string_view collar);

/// The same hue, dark enough for a thin line or for text: at least 3 : 1 against white.
/// Source: W3C (2018), Web Content Accessibility Guidelines 2.1, success criterion 1.4.11 (graphical objects).
Colour line_of(Colour swatch);

/// Line colour of the n-th pup: from its collar when that is known, else from a set that colour-blind eyes tell apart.
/// Source of the set: Okabe and Ito (2008), Color Universal Design, figure 16 (light ones darkened as above).
Colour line_colour(std::string_view collar, std::size_t n);

/// Contrast of two colours, 1 to 21. Source: WCAG 2.1, definition of "contrast ratio".
double contrast(Colour a, Colour b);

/// Our name for a colour that a style sheet may restyle ("ink", "blue"), empty for any other colour.
std::string_view name_of(Colour colour);

/// CSS that shows drawings well on a dark ground: rules for the classes the SVG backend writes, each selector inside
/// `scope` (".night", or empty for a style sheet that is dark anyway).
std::string dark_css(std::string_view scope);

}  // namespace lampside::draw
