// Words and rows one under the other, over as many pages as they need.
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "paper/sheet.hpp"

namespace lampside::paper {

class Flow {
 public:
  Flow(const Canvas& ruler, Area page) : ruler_{ruler}, page_{page} {}

  void heading(std::string_view words);  ///< never the last thing on a page
  void words(std::string_view words, const Font& font = {9.5, draw::Weight::regular, draw::kInk});
  void small(std::string_view words) { this->words(words, {8, draw::Weight::regular, draw::kMuted}); }
  /// A name and what it says; nothing to say: a line to write on.
  void row(std::string_view name, std::string_view says);
  /// Cells side by side, each in its share of the width; the last row of heads is not repeated.
  void cells(std::vector<std::string> texts, const std::vector<double>& shares, bool head = false,
             double least = mm(5));
  void lines(int count);  ///< empty lines to write on
  void space(double height) {
    block(height, [](Canvas&, Area) {});
  }
  /// Anything of that height.
  void block(double height, std::function<void(Canvas&, Area)> draw);

  [[nodiscard]] std::vector<std::function<void(Canvas&, Area)>> pages() const;

 private:
  struct Block {
    double height;
    std::function<void(Canvas&, Area)> draw;
    bool with_next = false;
  };
  const Canvas& ruler_;
  Area page_;
  std::vector<Block> blocks_;
};

}  // namespace lampside::paper
