#include "paper/flow.hpp"

#include <algorithm>

namespace lampside::paper {
namespace {

const Font kName{8.5, draw::Weight::regular, draw::kMuted}, kSays{9.5, draw::Weight::regular, draw::kInk};
constexpr double kNameShare = 0.3;

}  // namespace

void Flow::block(double height, std::function<void(Canvas&, Area)> draw) {
  blocks_.push_back({height, std::move(draw)});
}

void Flow::heading(std::string_view words) {
  block(mm(11), [text = std::string(words)](Canvas& canvas, Area at) {
    canvas.text({at.x, at.bottom() - mm(2.5)}, text, {13, draw::Weight::bold, draw::kInk}, Align::left);
    canvas.line({at.x, at.bottom() - mm(1)}, {at.right(), at.bottom() - mm(1)}, kRule);
  });
  blocks_.back().with_next = true;
}

void Flow::words(std::string_view words, const Font& font) {
  while (!words.empty()) {  // a paragraph a line of the text
    const auto end = std::min(words.find('\n'), words.size());
    std::string text{words.substr(0, end)};
    words.remove_prefix(std::min(end + 1, words.size()));
    if (!text.empty() && text.back() == '\r') text.pop_back();
    if (text.empty()) {
      space(mm(2));
      continue;
    }
    const std::vector<Run> runs{{text, font}};
    const double height = paragraph(nullptr, ruler_, {0, 0}, page_.width, runs) + mm(1);
    block(height, [runs](Canvas& canvas, Area at) { paragraph(&canvas, canvas, {at.x, at.y}, at.width, runs); });
  }
}

void Flow::row(std::string_view name, std::string_view says) {
  const std::vector<Run> left{{std::string(name), kName}}, right{{std::string(says), kSays}};
  const double name_width = page_.width * kNameShare - mm(3), width = page_.width * (1 - kNameShare);
  double height = std::max(paragraph(nullptr, ruler_, {0, 0}, name_width, left),
                           says.empty() ? kWritable : paragraph(nullptr, ruler_, {0, 0}, width, right));
  height += mm(1.4);
  block(height, [left, right, empty = says.empty()](Canvas& canvas, Area at) {
    paragraph(&canvas, canvas, {at.x, at.y}, at.width * kNameShare - mm(3), left);
    if (!empty) paragraph(&canvas, canvas, {at.x + at.width * kNameShare, at.y}, at.width * (1 - kNameShare), right);
    canvas.line({at.x + (empty ? at.width * kNameShare : 0), at.bottom() - mm(0.5)},
                {at.right(), at.bottom() - mm(0.5)}, kHairline);
  });
}

void Flow::cells(std::vector<std::string> texts, const std::vector<double>& shares, bool head, double least) {
  const Font font = head ? Font{8.5, draw::Weight::bold, draw::kMuted} : kSays;
  double height = least;
  for (std::size_t i = 0; i < texts.size(); ++i)
    height = std::max(height, paragraph(nullptr, ruler_, {0, 0}, page_.width * shares[i] - mm(2), {{texts[i], font}}));
  height += mm(1);
  block(height, [texts = std::move(texts), shares, font](Canvas& canvas, Area at) {
    double x = at.x;
    for (std::size_t i = 0; i < texts.size(); ++i) {
      if (!texts[i].empty()) paragraph(&canvas, canvas, {x, at.y}, at.width * shares[i] - mm(2), {{texts[i], font}});
      x += at.width * shares[i];
    }
    canvas.line({at.x, at.bottom() - mm(0.4)}, {at.right(), at.bottom() - mm(0.4)}, kHairline);
  });
  blocks_.back().with_next = head;
}

void Flow::lines(int count) {
  for (int i = 0; i < count; ++i)
    block(kWritable,
          [](Canvas& canvas, Area at) { canvas.line({at.x, at.bottom()}, {at.right(), at.bottom()}, kHairline); });
}

std::vector<std::function<void(Canvas&, Area)>> Flow::pages() const {
  std::vector<std::vector<Block>> sheets;
  double left = 0;
  for (std::size_t i = 0; i < blocks_.size(); ++i) {
    const auto& b = blocks_[i];
    double needs = b.height;
    for (std::size_t n = i; blocks_[n].with_next && n + 1 < blocks_.size(); ++n) needs += blocks_[n + 1].height;
    if (sheets.empty() || needs > left) {
      sheets.emplace_back();
      left = page_.height;
    }
    sheets.back().push_back(b);
    left -= b.height;
  }
  std::vector<std::function<void(Canvas&, Area)>> out;
  for (auto& sheet : sheets)
    out.emplace_back([sheet = std::move(sheet)](Canvas& canvas, Area body) {
      double y = body.y;
      for (const auto& b : sheet) {
        b.draw(canvas, {body.x, y, body.width, b.height});
        y += b.height;
      }
    });
  return out;
}

}  // namespace lampside::paper
