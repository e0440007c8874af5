// The field file of one run, and the page that describes its layout.
//
// HDF5, layout "tabmelt-result", schema version 1. A VTKHDF 2.0 unstructured grid of quads with the
// mesh stored once, so ParaView 5.12 and later play it as it is; beside it plain arrays for HDF5
// tools. Groups other than /VTKHDF are ignored by VTK readers.
//
// N = nz * nr cells, cell index = j * nr + i (r fastest, j upwards); P = (nz+1) * (nr+1) points;
// T frames; M time steps. Points are (x = r, y = z, 0) in metres, z = 0 at the faying surface,
// strip and electrode above it. Every dataset has the attributes `units` (UDUNITS spelling) and
// `long_name`. Fields refer to one spot.
//
//   /                        attributes: schema_name "tabmelt-result", schema_version 1,
//                            Conventions "CF-1.10", title, program_version, date (UTC),
//                            complete (0 while running or if the run was cut short, else 1)
//   /VTKHDF                  attributes: Version [2, 0], Type "UnstructuredGrid" (16 characters)
//     NumberOfPoints, NumberOfCells, NumberOfConnectivityIds    (1) int64: P, N, 4N
//     Points                 (P, 3) float64
//     Connectivity, Offsets  (4N), (N+1) int64, corners anticlockwise
//     Types                  (N) uint8, 9 = quad
//     CellData/
//       temperature          (T*N) float32 [K]         one chunk per frame, shuffle + deflate
//       liquid_fraction      (T*N) float32 [1]
//       electric_potential   (T*N) float32 [V]         rim of the spot at 0
//       current_density      (T*N, 3) float32 [A/m^2]  (J_r, J_z, 0)
//       region_id            (N) uint8    0 empty, 1 electrode, 2 strip, 3 can, 4.. inner layers
//       vtkGhostType         (N) uint8    32 hides empty cells, else 0
//       peak_temperature     (N) float32 [K]  hottest over the run; attribute `filled` 0 and all
//       peak_liquid_fraction (N) float32 [1]  zero until the run ends
//     Steps                  attribute NSteps = T
//       Values               (T) float64 [s]
//       PartOffsets, PointOffsets (T); CellOffsets, ConnectivityIdOffsets (T, 1)   int64, all 0
//       NumberOfParts        (T) int64, all 1
//       CellDataOffsets/<array>   (T) int64: k * N for frame k, 0 for arrays stored once
//   /mesh
//     r_edges, z_edges       (nr+1), (nz+1) float64 [m]
//     region_names           text per region number
//     region_roles           empty, electrode, strip, can or layer
//   /texts                   UTF-8 strings: case (as read), full_case (defaults filled in),
//                            case_file, title, and at the end verdict, report, notes
// Written at the end of a run:
//   /fields                  (time, z, r) views of the arrays above; no data of their own
//     time, z, r, component  (T), (nz), (nr), (3): dimension scales
//     temperature, liquid_fraction, electric_potential (T, nz, nr); current_density (T, nz, nr, 3)
//     region_id, peak_temperature, peak_liquid_fraction (nz, nr)
//   /series                  (M) float64, one per series of the catalogue, with
//                            time as dimension scale; probe_<name> and layer_<name> included
//   /results                 numbers of the run, float64 (catalogue.h)
//
// Empty cells hold the ambient temperature, so colour ranges stay useful where a reader ignores
// vtkGhostType.
//
// Default (earliest) file format. The file is built in memory and handed out as bytes, so HDF5
// itself never meets a disk, which it does not survive when full.
#pragma once

#include <cstddef>
#include <memory>
#include <stdexcept>
#include <string>
#include <vector>

#include "solver/catalogue/catalogue.h"
#include "solver/result/result.h"

namespace tabmelt {

inline constexpr int result_schema_version = 1;
inline constexpr const char* result_schema_name = "tabmelt-result";

// Temperature, liquid fraction, potential and current density as stored.
struct FieldArray {
  const char* name;
  std::size_t components;
  const char* units;
  const char* long_name;
  std::vector<float> Frame::*values;
};
const std::vector<FieldArray>& field_arrays();

struct Text {
  std::string name;
  std::string long_name;
  std::string text;
};

// What failed, in words, without the path.
class FieldFileError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

// Every member throws FieldFileError; after that the object can only be destroyed. Members may be
// called from any thread, for one object one at a time.
class FieldFile {
 public:
  // The name tells this file from others that are open; nothing of that name is read or written.
  // date: ISO 8601; not written if empty.
  FieldFile(const std::string& name, const std::string& title, const std::vector<Text>& texts,
            const std::string& date);
  ~FieldFile();
  FieldFile(const FieldFile&) = delete;
  FieldFile& operator=(const FieldFile&) = delete;

  void write_grid(const Result& run, double ambient);
  void append(const Frame& frame);
  // Series, scalars, texts, peak fields and views; marks the file complete if asked. Nothing may be
  // appended after it.
  void finish(const Result& run, const std::vector<Series>& columns,
              const std::vector<Quantity>& quantities, const std::vector<Text>& texts,
              bool complete);

  // The file as it stands.
  std::string bytes() const;
  std::size_t size() const;
  std::size_t frames() const;

 private:
  struct Open;
  std::unique_ptr<Open> open_;
};

}  // namespace tabmelt
