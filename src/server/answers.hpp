// Answers that several files of the server give.
#pragma once

#include <string>

#include "server/http.hpp"

namespace lampside::server {

/// On to another address, after a form.
inline Response see_other(std::string where) {
  Response r;
  r.status = 303;
  r.headers.emplace_back("Location", std::move(where));
  return r;
}

/// What to do about an entry that does not fit.
inline std::string advice_for(const std::string& misfit) {
  if (misfit == "BEFORE_BIRTH") return "check the date and time, or correct the birth first";
  if (misfit == "NEVER_BORN") return "record the birth first";
  if (misfit == "BORN_TWICE") return "give this pup another label, or correct the birth that is there";
  if (misfit == "TWO_CORRECTIONS") return "open the log and strike out the correction that is wrong";
  return "open the log and look at what is written there";
}

}  // namespace lampside::server
