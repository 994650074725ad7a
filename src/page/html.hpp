// HTML by type: text becomes HTML only by escaping, so no page can forget to.
#pragma once

#include <initializer_list>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace lampside::page {

/// A piece of well-formed HTML. Made from text (escaped), from elements, or from a literal of ours (`raw`).
class Html {
 public:
  Html() = default;
  /// Escapes & < > " '.
  static Html text(std::string_view text);
  /// Trusted markup that we wrote ourselves; a string literal only, so that no input can reach it.
  template <std::size_t N>
  static Html literal(const char (&markup)[N]) {
    return Html{std::string(markup, N - 1)};
  }
  /// Markup made by our own SVG canvas.
  static Html from_svg(std::string svg) { return Html{std::move(svg)}; }

  Html& operator+=(const Html& other) {
    markup_ += other.markup_;
    return *this;
  }
  friend Html operator+(Html a, const Html& b) { return std::move(a += b); }
  [[nodiscard]] const std::string& str() const { return markup_; }
  [[nodiscard]] bool empty() const { return markup_.empty(); }

 private:
  explicit Html(std::string markup) : markup_{std::move(markup)} {}
  friend Html element(std::string_view, const std::vector<std::pair<std::string_view, std::string>>&, const Html&);
  std::string markup_;
};

using Attributes = std::vector<std::pair<std::string_view, std::string>>;

/// `<name a="escaped">children</name>`; void elements (input, br, meta, link, hr, img) have no end tag.
/// An attribute whose value is "\x01" is a bare one (`checked`): use `kBare`.
Html element(std::string_view name, const Attributes& attributes, const Html& children = {});
inline const std::string kBare = "\x01";

}  // namespace lampside::page
