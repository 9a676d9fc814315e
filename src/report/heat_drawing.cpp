#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "heatside/report/case_drawings.hpp"
#include "report/drawing_words.hpp"
#include "report/svg.hpp"

namespace heatside::report {

namespace {

using population::HeatBand;
using population::SegmentEstimate;

constexpr double row = 19.0, label_room = 80.0, words_room = 96.0;
constexpr std::array<const char*, 3> regime_words{"running", "hot soak after", "parked cold"};

// Strokes, dots and nothing, on dark to pale: three that no copier mixes up.
std::string patterns_drawn(const std::string& prefix) {
  return fmt::format(
      "<defs>\n<pattern id=\"{0}-running\" width=\"6\" height=\"6\" patternUnits=\"userSpaceOnUse\">"
      "<rect width=\"6\" height=\"6\" fill=\"#d2b97e\"/><path d=\"M-1 7L7 -1M-1 1L1 -1M5 7L7 5\" stroke=\"{1}\" "
      "stroke-width=\"1.3\"/></pattern>\n"
      "<pattern id=\"{0}-soak\" width=\"5\" height=\"5\" patternUnits=\"userSpaceOnUse\">"
      "<rect width=\"5\" height=\"5\" fill=\"#002b5e\"/><circle cx=\"2.5\" cy=\"2.5\" r=\"1\" fill=\"{2}\"/></pattern>\n"
      "<pattern id=\"{0}-parked\" width=\"5\" height=\"5\" patternUnits=\"userSpaceOnUse\">"
      "<rect width=\"5\" height=\"5\" fill=\"#feeaa5\"/></pattern>\n</defs>\n",
      prefix, svg::ink, svg::paper);
}

std::string regime_look(const std::string& prefix, std::size_t regime) {
  return fmt::format("fill=\"url(#{}-{})\" stroke=\"{}\" stroke-width=\"0.8\"", prefix, exposure::regime_names[regime],
                     svg::ink);
}

std::string band_words(const HeatBand& band) { return fmt::format("{} to {} \u00b0C", band.from_celsius, band.to_celsius); }

double share_of(const HeatBand& band) { return exposure::total(band.share); }

std::string whole_words(const HeatBand& band) {
  std::string words = band_words(band) + ": ";
  for (std::size_t i = 0; i < band.share.size(); ++i)
    words += fmt::format("{} {} in {:.0f} h a year{}", regime_words[i], chance_words(band.share[i]), band.hours_a_year[i],
                         i + 1 < band.share.size() ? ", " : "");
  return words;
}

// From the first to the last band that does anything.
std::vector<HeatBand> bands_shown(const std::vector<HeatBand>& bands) {
  constexpr double nothing = 5.0e-4;
  const auto counts = [&](const HeatBand& band) {
    return share_of(band) >= nothing || exposure::total(band.hours_a_year) >= 1.0;
  };
  const auto first = std::find_if(bands.begin(), bands.end(), counts);
  const auto last = std::find_if(bands.rbegin(), bands.rend(), counts).base();
  return first < last ? std::vector<HeatBand>(first, last) : std::vector<HeatBand>{};
}

std::string band_drawn(const HeatBand& band, double y, double most, double width, const std::string& prefix) {
  std::string drawn = svg::text(10.0 + label_room - 6.0, y + 13.0, band_words(band), {.size = 10.5, .anchor = "end"});
  double x = 10.0 + label_room;
  const double scale = (width - 20.0 - label_room - words_room) / most;
  for (std::size_t i = 0; i < band.share.size(); ++i) {
    const double wide = scale * std::max(band.share[i], 0.0);
    if (wide >= 0.05) drawn += svg::box({x, y + 2.0}, wide, row - 5.0, regime_look(prefix, i));
    x += std::max(wide, 0.0);
  }
  const double hours = exposure::total(band.hours_a_year);
  return drawn + svg::text(x + 5.0, y + 13.0,
                           fmt::format("{} in {} h", chance_words(std::max(share_of(band), 0.0)),
                                       hours < 0.5 ? "< 1" : fmt::format("{:.0f}", hours)),
                           {.size = 10.0}, width - x - 8.0);
}

exposure::PerRegime regime_totals(const std::vector<HeatBand>& bands) {
  exposure::PerRegime totals{};
  for (const HeatBand& band : bands) {
    for (std::size_t i = 0; i < totals.size(); ++i) totals[i] += band.share[i];
  }
  return totals;
}

}  // namespace

std::string heat_drawing(const std::vector<HeatBand>& bands, const SegmentEstimate& segment, const DrawingPlace& place) {
  require_width(place);
  const std::vector<HeatBand> shown = bands_shown(bands);
  if (shown.empty()) throw DomainError("no temperatures to draw");
  const std::string title = "When and how hot " + segment_words(segment) + " aged";
  const svg::Block head = svg::heading(
      title, "Share of the ageing since fitting by temperature of the insulation, and hours of a mean year.", place.width);
  std::string drawn = patterns_drawn(place.prefix) + head.drawn;
  const exposure::PerRegime totals = regime_totals(bands);
  double y = head.height + 2.0;
  for (std::size_t i = 0; i < totals.size(); ++i, y += 17.0) {
    drawn += svg::box({12.0, y}, 26.0, 12.0, regime_look(place.prefix, i));
    drawn += svg::text(44.0, y + 10.0, fmt::format("{}: {}", regime_words[i], chance_words(std::max(totals[i], 0.0))));
  }
  y += 6.0;
  double most = 0.0;
  for (const HeatBand& band : shown) most = std::max(most, share_of(band));
  if (!(most > 0.0)) throw DomainError("no ageing to draw");
  const double top = y;
  for (auto band = shown.rbegin(); band != shown.rend(); ++band, y += row)
    drawn += svg::group(whole_words(*band), band_drawn(*band, y, most, place.width, place.prefix));
  drawn += svg::line({10.0 + label_room, top}, {10.0 + label_room, y}, fmt::format("stroke=\"{}\"", svg::ink));
  const svg::Block more =
      svg::paragraph({10.0, y + 6.0}, place.width - 20.0,
                     fmt::format("The likely case, without intervals. It did as much as a constant {:.0f} \u00b0C.",
                                 in_celsius(segment.equivalent_temperature)),
                     {.size = 10.0, .fill = svg::soft_ink});
  std::string description = "Share of the ageing since fitting. ";
  for (std::size_t i = 0; i < totals.size(); ++i)
    description += fmt::format("{} {}. ", regime_words[i], chance_words(std::max(totals[i], 0.0)));
  for (const HeatBand& band : shown) description += whole_words(band) + ". ";
  return svg::drawn({place.prefix, title, description, place.width, y + more.height + 14.0}, drawn + more.drawn);
}

}  // namespace heatside::report
