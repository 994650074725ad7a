#include "paper/pictures.hpp"

#include "picture/picture.hpp"

namespace lampside::paper {

std::vector<const record::Pup*> chosen_pups(const Made& made) {
  std::vector<const record::Pup*> out;
  if (const auto* asked = made.litter.pup(made.given.pup)) return {asked};
  for (const auto& pup : made.litter.pups)
    if (pup.in_box()) out.push_back(&pup);
  return out;
}

std::vector<const record::Told<record::Photo>*> photos_of(const record::Litter& litter, const record::Pup& pup) {
  std::vector<const record::Told<record::Photo>*> out;
  for (const auto& photo : litter.photos)
    if (photo.about == pup.label) out.push_back(&photo);
  return out;
}

std::optional<draw::Picture> picture_of(const Made& made, const record::Photo& photo) {
  if (!made.given.picture) return std::nullopt;
  const auto bytes = made.given.picture(photo.sha256);
  if (!bytes) return std::nullopt;
  auto picture = picture::for_paper(*bytes, picture::kSmall);
  if (!picture) return std::nullopt;
  return std::move(*picture);
}

std::optional<draw::Picture> last_picture(const Made& made, const record::Pup& pup) {
  const auto photos = photos_of(made.litter, pup);
  for (auto photo = photos.rbegin(); photo != photos.rend(); ++photo)
    if (auto picture = picture_of(made, (*photo)->what)) return picture;
  return std::nullopt;
}

void no_pup(Canvas& canvas, Area body) {
  canvas.text({body.x, body.y + mm(8)}, "No pup is at home yet.", {11, draw::Weight::regular, draw::kInk}, Align::left);
  canvas.text({body.x, body.y + mm(16)},
              "A page is made for each pup once its birth is written down, for as long as it is here.",
              {11, draw::Weight::regular, draw::kMuted}, Align::left);
}

}  // namespace lampside::paper
