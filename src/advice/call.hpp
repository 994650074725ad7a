// What to say to the vet on the telephone: who, what, since when, what was done, what is asked, and the night so far.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "advice/assessment.hpp"

namespace lampside::advice {

struct CallSheet {
  bool urgent = false;            ///< something on record asks for a call
  bool emergency = false;         ///< and at once
  std::string who;                ///< dam, breed, weight, litters before
  std::vector<std::string> what;  ///< each flag: what, since when; the worst first
  std::string state;              ///< born, alive, counted; her temperature
  std::vector<std::string> done;  ///< doses, notes and tasks of the last day
  std::string asked;
  std::string drive;  ///< how far the vet is; says so when it is not on record
  struct Line {
    Instant at;
    std::string says;
  };
  std::vector<Line> timeline;  ///< of the last day and since labour began, the oldest first
};

CallSheet call_sheet(const record::Litter& litter, const Assessment& assessment);

/// The sheet as plain text, one thing a line, to read out or to send. Ends with a newline.
std::string call_text(const CallSheet& sheet, const record::Litter& litter, Instant now);

}  // namespace lampside::advice
