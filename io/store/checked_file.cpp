#include "io/store/checked_file.h"

#include <algorithm>
#include <type_traits>

namespace tabmelt::hdf5 {
namespace {

// More than any run of this program asks for at a time. [byte]
constexpr hsize_t most_bytes = 1'000'000'000;

// In a list: the names of regions, whose numbers are bytes.
constexpr hsize_t most_texts = 256;

const char* const too_large = "impossible size of an array";

[[noreturn]] void refuse(const std::string& name, const std::string& wrong) {
  throw Damaged(name + ": " + wrong);
}

// The shape of a dataset or attribute, which must be of this class and rank (0: one value).
template <typename Stored>
Shape checked_shape(const Stored& stored, const std::string& name, H5T_class_t type, int rank) {
  const H5::DataSpace space = stored.getSpace();
  const bool one_value = space.getSimpleExtentType() == H5S_SCALAR;
  if (stored.getTypeClass() != type || space.getSimpleExtentNdims() != rank ||
      (rank == 0) != one_value || (type == H5T_STRING && !stored.getStrType().isVariableStr())) {
    refuse(name, "is not of the type and shape it must have");
  }
  Shape shape(static_cast<std::size_t>(rank));
  if (rank > 0) space.getSimpleExtentDims(shape.data());
  return shape;
}

// Neither in other files nor behind filters that would be loaded.
void check_storage(const H5::DataSet& dataset, const std::string& name, int rank) {
  const H5::DSetCreatPropList how = dataset.getCreatePlist();
  const H5D_layout_t layout = how.getLayout();
  if (layout == H5D_VIRTUAL || how.getExternalCount() > 0) refuse(name, "lies in another file");
  for (int n = 0; n < how.getNfilters(); ++n) {
    unsigned flags = 0, config = 0;
    std::size_t values = 0;
    const H5Z_filter_t filter = how.getFilter(n, flags, values, nullptr, 0, nullptr, config);
    if (filter != H5Z_FILTER_DEFLATE && filter != H5Z_FILTER_SHUFFLE) {
      refuse(name, "is packed in an unknown way");
    }
  }
  if (layout != H5D_CHUNKED) return;
  Shape chunk(static_cast<std::size_t>(rank));
  if (how.getChunk(rank, chunk.data()) != rank) refuse(name, "chunks of another rank");
  hsize_t bytes = dataset.getDataType().getSize();
  for (const hsize_t extent : chunk) {
    if (bytes > most_bytes / std::max<hsize_t>(extent, 1)) refuse(name, too_large);
    bytes *= extent;
  }
}

}  // namespace

CheckedFile::CheckedFile(const H5::H5File& file) : file_(file), left_(most_bytes) {}

std::string CheckedFile::own(const std::string& path) const {
  for (std::size_t end = 0; end < path.size();) {
    end = std::min(path.find('/', end + 1), path.size());
    const std::string link = path.substr(0, end);
    if (link != "/" && file_.getLinkInfo(link).type != H5L_TYPE_HARD) {
      refuse(link, "a link that leads elsewhere");
    }
  }
  return path;
}

bool CheckedFile::has(const std::string& group) const {
  return file_.nameExists(group) && !own(group).empty();
}

std::vector<std::string> CheckedFile::names(const std::string& group) const {
  std::vector<std::string> found;
  if (!has(group)) return found;
  const H5::Group members = file_.openGroup(group);
  for (hsize_t n = 0; n < members.getNumObjs(); ++n) {
    const std::string member = members.getObjnameByIdx(n);
    if (members.childObjType(member) == H5O_TYPE_DATASET) found.push_back(member);
  }
  return found;
}

H5::DataSet CheckedFile::dataset(const std::string& path, H5T_class_t type, int rank,
                                 Shape& shape) const {
  const H5::DataSet found = file_.openDataSet(own(path));
  shape = checked_shape(found, path, type, rank);
  check_storage(found, path, rank);
  return found;
}

void CheckedFile::charge(const std::string& path, hsize_t values, hsize_t bytes) const {
  if (values > left_ / bytes) refuse(path, too_large);
  left_ -= values * bytes;
}

H5::Attribute CheckedFile::attribute(const std::string& owner, const std::string& name,
                                     H5T_class_t type) const {
  const hid_t id =
      H5Aopen_by_name(file_.getId(), own(owner).c_str(), name.c_str(), H5P_DEFAULT, H5P_DEFAULT);
  if (id < 0) refuse(name, "is missing");
  H5::Attribute found(id);
  H5Idec_ref(id);  // the object has counted itself
  checked_shape(found, name, type, 0);
  return found;
}

bool CheckedFile::has_attribute(const std::string& owner, const std::string& name) const {
  return H5Aexists_by_name(file_.getId(), own(owner).c_str(), name.c_str(), H5P_DEFAULT) > 0;
}

std::int64_t CheckedFile::integer(const std::string& owner, const std::string& name) const {
  std::int64_t value = 0;
  attribute(owner, name, H5T_INTEGER).read(H5::PredType::NATIVE_INT64, &value);
  return value;
}

std::string CheckedFile::text_attribute(const std::string& owner, const std::string& name) const {
  const H5::Attribute found = attribute(owner, name, H5T_STRING);
  std::string text;
  found.read(found.getStrType(), text);
  return text;
}

double CheckedFile::number(const std::string& path) const {
  Shape none;
  double value = 0;
  dataset(path, H5T_FLOAT, 0, none).read(&value, H5::PredType::NATIVE_DOUBLE);
  return value;
}

std::string CheckedFile::text(const std::string& path) const {
  Shape none;
  std::string text;
  const H5::DataSet found = dataset(path, H5T_STRING, 0, none);
  found.read(text, found.getStrType());
  charge(path, text.size(), 1);
  return text;
}

std::vector<std::string> CheckedFile::texts(const std::string& path) const {
  Shape shape;
  const H5::DataSet found = dataset(path, H5T_STRING, 1, shape);
  if (shape[0] > most_texts) refuse(path, too_large);
  std::vector<char*> raw(shape[0], nullptr);
  const H5::StrType type = found.getStrType();
  found.read(raw.data(), type);
  std::vector<std::string> texts;
  for (const char* text : raw) texts.emplace_back(text ? text : "");
  H5::DataSet::vlenReclaim(raw.data(), type, found.getSpace());
  return texts;
}

template <typename Number>
std::vector<Number> CheckedFile::list(const std::string& path) const {
  Shape shape;
  const H5::DataSet found =
      dataset(path, std::is_integral_v<Number> ? H5T_INTEGER : H5T_FLOAT, 1, shape);
  charge(path, shape[0], sizeof(Number));
  std::vector<Number> values(shape[0]);
  if (!values.empty()) found.read(values.data(), memory_type<Number>());
  return values;
}
template std::vector<float> CheckedFile::list<float>(const std::string&) const;
template std::vector<double> CheckedFile::list<double>(const std::string&) const;
template std::vector<std::uint8_t> CheckedFile::list<std::uint8_t>(const std::string&) const;

std::vector<float> CheckedFile::rows(const std::string& path, hsize_t all_rows, hsize_t components,
                                     hsize_t start, hsize_t count, hsize_t stride) const {
  Shape shape;
  const int rank = components == 1 ? 1 : 2;
  const H5::DataSet found = dataset(path, H5T_FLOAT, rank, shape);
  if (shape[0] != all_rows || (rank == 2 && shape[1] != components)) {
    refuse(path, "is not of the length that mesh and frames ask for");
  }
  charge(path, count, components * sizeof(float));
  const Shape from{start, 0}, step{stride, 1}, size{count, components};
  const H5::DataSpace space = found.getSpace();
  space.selectHyperslab(H5S_SELECT_SET, size.data(), from.data(), step.data());
  std::vector<float> values(count * components);
  if (!values.empty()) {
    found.read(values.data(), H5::PredType::NATIVE_FLOAT, H5::DataSpace(rank, size.data()), space);
  }
  return values;
}

}  // namespace tabmelt::hdf5
