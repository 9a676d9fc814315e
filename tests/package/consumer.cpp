#include <heatside/estimate.hpp>
#include <iostream>

// Prints the thermal-life point of a built-in record.
int main() {
  const heatside::library::Library library = heatside::library::built_in_library();
  const heatside::library::Insulation& record = library.insulations.at("xlpo-125");
  std::cout << record.head.id << ": " << record.life_hours.value << ' ' << record.life_hours.unit << " at "
            << record.life_temperature.value << ' ' << record.life_temperature.unit << '\n';
}
