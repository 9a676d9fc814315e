#pragma once

#include "heatside/labfit/reading_study.hpp"

namespace heatside::labfit {

/// Fills in two_paths, curvature_probability and verdict from the factors and their line.
void judge_curvature(Superposition& superposition);

}  // namespace heatside::labfit
