// All that an assessment says, as one text: two assessments are the same exactly when their texts are.
#pragma once

#include <functional>
#include <string>

#include "advice/assessment.hpp"

namespace lampside::testing {

/// Everything but the findings that `leave_out` names.
std::string told(const advice::Assessment& a, std::string_view leave_out = {});

/// Calls `f(name, number)` for every floating number of the assessment.
void each_number(const advice::Assessment& a, const std::function<void(std::string_view, double)>& f);

}  // namespace lampside::testing
