// Datasets that say what they are: every one carries `units` (UDUNITS spelling, "1" if
// dimensionless) and `long_name`. To be used inside an Hdf5Section; throws H5::Exception.
#pragma once

#include <H5Cpp.h>

#include <cstdint>
#include <string>
#include <type_traits>
#include <vector>

namespace tabmelt::hdf5 {

struct Meaning {
  std::string units;
  std::string long_name;
};

using Shape = std::vector<hsize_t>;

// File type of a C++ number; its memory type is the native one.
template <typename Number>
const H5::PredType& file_type() {
  if constexpr (std::is_same_v<Number, float>) return H5::PredType::IEEE_F32LE;
  if constexpr (std::is_same_v<Number, double>) return H5::PredType::IEEE_F64LE;
  if constexpr (std::is_same_v<Number, std::int64_t>) return H5::PredType::STD_I64LE;
  if constexpr (std::is_same_v<Number, std::int32_t>) return H5::PredType::STD_I32LE;
  if constexpr (std::is_same_v<Number, std::uint8_t>) return H5::PredType::STD_U8LE;
}
template <typename Number>
const H5::PredType& memory_type() {
  if constexpr (std::is_same_v<Number, float>) return H5::PredType::NATIVE_FLOAT;
  if constexpr (std::is_same_v<Number, double>) return H5::PredType::NATIVE_DOUBLE;
  if constexpr (std::is_same_v<Number, std::int64_t>) return H5::PredType::NATIVE_INT64;
  if constexpr (std::is_same_v<Number, std::int32_t>) return H5::PredType::NATIVE_INT32;
  if constexpr (std::is_same_v<Number, std::uint8_t>) return H5::PredType::NATIVE_UINT8;
}

// How a dataset is created: HDF5 would note the time, and equal runs would leave unequal files.
H5::DSetCreatPropList without_times();

void write_text_attribute(H5::H5Object& owner, const std::string& name, const std::string& text);
void write_integer_attribute(H5::H5Object& owner, const std::string& name, std::int64_t value);
void rewrite_integer_attribute(H5::H5Object& owner, const std::string& name, std::int64_t value);
void describe(H5::DataSet& dataset, const Meaning& meaning);

// A dataset of final size. An empty shape makes a scalar.
template <typename Number>
H5::DataSet write_array(H5::Group& group, const std::string& name, const Shape& shape,
                        const std::vector<Number>& values, const Meaning& meaning);
// The same, one chunk with shuffle and deflate.
template <typename Number>
H5::DataSet write_packed_array(H5::Group& group, const std::string& name, const Shape& shape,
                               const std::vector<Number>& values, const Meaning& meaning);
H5::DataSet write_number(H5::Group& group, const std::string& name, double value,
                         const Meaning& meaning);
H5::DataSet write_text(H5::Group& group, const std::string& name, const std::string& text,
                       const Meaning& meaning);

// A dataset without rows that grows along its first dimension; row_shape is one row.
enum class Packing { none, deflate };
template <typename Number>
H5::DataSet create_growing(H5::Group& group, const std::string& name, const Shape& row_shape,
                           hsize_t chunk_rows, Packing packing, const Meaning& meaning);
template <typename Number>
void append_rows(H5::DataSet& dataset, const std::vector<Number>& values);

// A read-only view of `source`, a path in the same file with as many elements.
H5::DataSet write_view(H5::Group& group, const std::string& name, const Shape& shape,
                       const std::string& source, const Shape& source_shape,
                       const H5::DataType& type, const Meaning& meaning);

// Makes a dataset the axis of one dimension, and attaches it to others (HDF5 dimension scales).
void make_scale(H5::DataSet& axis, const std::string& name);
void attach_scale(H5::DataSet& dataset, H5::DataSet& axis, unsigned dimension);

}  // namespace tabmelt::hdf5
