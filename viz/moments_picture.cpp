#include "viz/pictures.h"
namespace tabmelt {
void draw_moments(const StoredRun&, const std::filesystem::path&) {}
void draw_energy(const StoredRun&, const std::filesystem::path&) {}
}  // namespace tabmelt
