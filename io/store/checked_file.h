// A result file that anyone may have made. Whatever is read is looked at first: its class, rank and
// length, and that it is stored in this file, in a way this program writes. So no file makes a read
// overrun memory or reach another file.
//
// To be used inside an Hdf5Section. Throws Damaged or H5::Exception.
#pragma once

#include <H5Cpp.h>

#include <cstdint>
#include <stdexcept>
#include <string>
#include <vector>

#include "io/store/hdf5_datasets.h"

namespace tabmelt::hdf5 {

// What is wrong, with the name of the dataset or attribute.
class Damaged : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

class CheckedFile {
 public:
  explicit CheckedFile(const H5::H5File& file);

  bool has(const std::string& group) const;
  // Of the datasets in a group; none if there is no such group.
  std::vector<std::string> names(const std::string& group) const;

  // Attributes with one value. `owner`: "/", or path of a group or dataset.
  bool has_attribute(const std::string& owner, const std::string& name) const;
  std::int64_t integer(const std::string& owner, const std::string& name) const;
  std::string text_attribute(const std::string& owner, const std::string& name) const;

  // Datasets: one value, or a list.
  double number(const std::string& path) const;
  std::string text(const std::string& path) const;
  std::vector<std::string> texts(const std::string& path) const;
  template <typename Number>
  std::vector<Number> list(const std::string& path) const;

  // The rows start, start + stride, ... of a dataset of so many rows, each of `components` numbers;
  // of rank 1 if that is one, else of rank 2.
  std::vector<float> rows(const std::string& path, hsize_t all_rows, hsize_t components,
                          hsize_t start, hsize_t count, hsize_t stride = 1) const;

 private:
  // The path, if every part of it is an object of this file and not a link that leads elsewhere.
  std::string own(const std::string& path) const;
  H5::DataSet dataset(const std::string& path, H5T_class_t type, int rank, Shape& shape) const;
  H5::Attribute attribute(const std::string& owner, const std::string& name, H5T_class_t) const;
  void charge(const std::string& path, hsize_t values, hsize_t bytes) const;

  H5::H5File file_;
  mutable hsize_t left_;  // [byte] that may still be read
};

}  // namespace tabmelt::hdf5
