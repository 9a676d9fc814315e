#pragma once

#include <string>
#include <vector>

#include "heatside/population/topics.hpp"
#include "report/tidy_table.hpp"

namespace heatside::report {

/// Every number of an experiment.
[[nodiscard]] TidyTable topic_table(const population::Topic& topic);

/// What it shows, in words for a class.
struct TopicWords {
  std::string title;
  std::vector<std::string> paragraphs;
  std::vector<std::string> heading;            ///< of a short table; empty where there is none
  std::vector<std::vector<std::string>> rows;  ///< of that table
};
[[nodiscard]] TopicWords topic_words(const population::Topic& topic);

}  // namespace heatside::report
