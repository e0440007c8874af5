#include "io/store/xdmf.h"

#include <fmt/format.h>

#include <iterator>

#include "io/store/field_file.h"

namespace tabmelt {
namespace {

struct StoredOnce {
  const char* name;
  const char* type;
  int bytes;
};

constexpr StoredOnce stored_once[] = {
    {"region_id", "UChar", 1},
    {"vtkGhostType", "UChar", 1},
    {"peak_temperature", "Float", 4},
    {"peak_liquid_fraction", "Float", 4},
};

}  // namespace

std::string xdmf_text(const std::string& field_file, const mesh::AxisymmetricGrid& grid,
                      const std::vector<double>& times) {
  const std::size_t cells = grid.cells(), frames = times.size();
  const std::size_t points = (grid.nr() + 1) * (grid.nz() + 1);
  fmt::memory_buffer text;
  auto out = std::back_inserter(text);
  const auto data_item = [&](const std::string& type, int bytes, const std::string& dimensions,
                             const std::string& path) {
    return fmt::format(
        "<DataItem Format=\"HDF\" NumberType=\"{}\" Precision=\"{}\" Dimensions=\"{}\">{}:{}"
        "</DataItem>",
        type, bytes, dimensions, field_file, path);
  };
  fmt::format_to(out,
                 "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<Xdmf Version=\"3.0\">\n  <Domain>\n"
                 "    <Grid Name=\"weld\" GridType=\"Collection\" CollectionType=\"Temporal\">\n");
  for (std::size_t k = 0; k < frames; ++k) {
    fmt::format_to(out,
                   "      <Grid Name=\"frame {}\" GridType=\"Uniform\">\n"
                   "        <Time Value=\"{:.17g}\"/>\n",
                   k, times[k]);
    // The corner list is stored flat, so its dimension is written flat.
    fmt::format_to(out,
                   "        <Topology TopologyType=\"Quadrilateral\" NumberOfElements=\"{}\">\n"
                   "          {}\n        </Topology>\n"
                   "        <Geometry GeometryType=\"XYZ\">\n          {}\n        </Geometry>\n",
                   cells, data_item("Int", 8, fmt::format("{}", 4 * cells), "/VTKHDF/Connectivity"),
                   data_item("Float", 8, fmt::format("{} 3", points), "/VTKHDF/Points"));
    const auto attribute = [&](const std::string& name, const char* kind, const std::string& item) {
      fmt::format_to(out,
                     "        <Attribute Name=\"{}\" AttributeType=\"{}\" Center=\"Cell\">\n"
                     "          {}\n        </Attribute>\n",
                     name, kind, item);
    };
    for (const FieldArray& array : field_arrays()) {
      const std::string path = std::string("/VTKHDF/CellData/") + array.name;
      if (array.components == 1) {
        attribute(array.name, "Scalar",
                  data_item("Float", 4, fmt::format("{}", cells),
                            fmt::format("{}|{}:1:{}:{}", path, k * cells, cells, frames * cells)));
      } else {
        const std::size_t n = array.components;
        attribute(array.name, "Vector",
                  data_item("Float", 4, fmt::format("{} {}", cells, n),
                            fmt::format("{}|{} 0:1 1:{} {}:{} {}", path, k * cells, cells, n,
                                        frames * cells, n)));
      }
    }
    for (const StoredOnce& array : stored_once) {
      attribute(array.name, "Scalar",
                data_item(array.type, array.bytes, fmt::format("{}", cells),
                          std::string("/VTKHDF/CellData/") + array.name));
    }
    fmt::format_to(out, "      </Grid>\n");
  }
  fmt::format_to(out, "    </Grid>\n  </Domain>\n</Xdmf>\n");
  return fmt::to_string(text);
}

}  // namespace tabmelt
