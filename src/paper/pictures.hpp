// The pups a form is about, and their pictures.
#pragma once

#include <optional>
#include <vector>

#include "paper/sheet.hpp"

namespace lampside::paper {

/// The pup that was asked for, else every pup at home.
std::vector<const record::Pup*> chosen_pups(const Made& made);
/// Its pictures, oldest first; those whose file is gone are left out.
std::vector<const record::Told<record::Photo>*> photos_of(const record::Litter& litter, const record::Pup& pup);
std::optional<draw::Picture> picture_of(const Made& made, const record::Photo& photo);
std::optional<draw::Picture> last_picture(const Made& made, const record::Pup& pup);
/// The page of a form about a pup while there is none.
void no_pup(Canvas& canvas, Area body);

}  // namespace lampside::paper
