#pragma once

#include <cstddef>
#include <cstdint>
#include <map>
#include <string>
#include <vector>

namespace heatside::population {

/// Standard normals of every unknown quantity of a case, one column a quantity, one row a draw.
///
/// A column depends on seed, name and number of the draw alone, so draws are common to all cases, materials and remedies
/// that share a quantity. A few quantities that move everything are spread evenly over their space.
class Normals {
 public:
  Normals(std::uint64_t seed, std::size_t draws);

  /// The column of a quantity, made when it is first asked for.
  [[nodiscard]] const std::vector<double>& of(const std::string& name);

  [[nodiscard]] std::size_t draws() const { return draws_; }
  [[nodiscard]] std::uint64_t seed() const { return seed_; }
  [[nodiscard]] const std::map<std::string, std::vector<double>>& columns() const { return columns_; }
  /// Puts other draws in the place of a column.
  void replace(const std::string& name, std::vector<double> column) { columns_[name] = std::move(column); }

 private:
  std::uint64_t seed_;
  std::size_t draws_;
  std::map<std::string, std::vector<double>> columns_;
};

/// Names of quantities.
namespace quantity {
inline const std::string usage = "usage";
inline const std::string soak_decay = "soak-decay";
inline const std::string bay = "zone/common";
inline const std::string notch = "notch";
[[nodiscard]] inline std::string zone(const std::string& id) { return "zone/" + id; }
[[nodiscard]] inline std::string stretch(const std::string& segment, const std::string& id) {
  return "stretch/" + segment + "/" + id;
}
[[nodiscard]] inline std::string elsewhere(const std::string& loom) { return "elsewhere/" + loom; }
[[nodiscard]] inline std::string bend(const std::string& segment) { return "bend/" + segment; }
}  // namespace quantity

}  // namespace heatside::population
