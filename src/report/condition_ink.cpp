#include "report/condition_ink.hpp"

#include <fmt/format.h>

namespace heatside::report {

std::string loom_line(std::string_view data, ageing::Condition condition, double width) {
  const ConditionInk& ink = ink_of(condition);
  const double inner = width - 2.4;
  std::string drawn = svg::path(data, fmt::format("fill=\"none\" stroke=\"{}\" stroke-width=\"{}\"", svg::ink, width));
  drawn += svg::path(data, fmt::format("fill=\"none\" stroke=\"{}\" stroke-width=\"{}\"", ink.colour, svg::number(inner)));
  if (ink.dash_colour != nullptr)
    drawn += svg::path(data, fmt::format("fill=\"none\" stroke=\"{}\" stroke-width=\"{}\" stroke-dasharray=\"{}\"",
                                         ink.dash_colour, svg::number(inner * ink.dash_width), ink.dash));
  return drawn;
}

std::string chance_bar(svg::Point corner, double length, double height, const std::array<double, 5>& chance) {
  std::string drawn;
  double x = corner.x;
  for (std::size_t i = 0; i < chance.size(); ++i) {
    const double wide = length * chance[i];
    if (wide >= 0.005)
      drawn += svg::box({x, corner.y}, wide, height,
                        fmt::format("fill=\"{}\" stroke=\"{}\" stroke-width=\"0.5\"", condition_inks[i].colour, svg::ink));
    x += wide;
  }
  return drawn + svg::box(corner, length, height, fmt::format("fill=\"none\" stroke=\"{}\" stroke-width=\"0.8\"", svg::ink));
}

}  // namespace heatside::report
