#include "heatside/population/predicted.hpp"

namespace heatside::population {

std::vector<casefile::PredictedSegment> predicted_segments(const Estimate& estimate, const casefile::Case& job) {
  std::vector<casefile::PredictedSegment> predicted;
  for (const casefile::Segment& segment : job.segments) {
    const SegmentEstimate* found = casefile::find_by_id(estimate.segments, segment.id);
    if (found != nullptr) predicted.push_back({segment.id, found->chance});
  }
  return predicted;
}

}  // namespace heatside::population
