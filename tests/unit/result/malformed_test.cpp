// Files of other programs, other layouts and anyone's making: each is refused by name, with a
// reason, whatever class, rank, length or value stands where the reader expects another.

#include <gtest/gtest.h>

#include <sstream>

#include "io/store/result_reader.h"
#include "io/store/result_writer.h"
#include "sample_run.h"

namespace tabmelt {
namespace {

namespace fs = std::filesystem;

// Makes one file per line of the list, and prints the name and what the refusal must say;
// "anything" where the file may be read as well.
const char* const script = R"python(
import shutil, sys
try:
    import h5py, numpy as np
except ImportError as missing:
    print(missing); sys.exit(77)
good, folder = sys.argv[1:]
N, T = 12 * 9, 4
text = h5py.string_dtype()

def file(name, reason, change, start=True):
    path = folder + '/' + name
    if start: shutil.copy(good, path)
    with h5py.File(path, 'r+' if start else 'w') as f: change(f)
    print(name, reason)

def replace(path, data, **how):
    def change(f):
        kept = dict(f[path].attrs)
        del f[path]
        f.create_dataset(path, data=data, **how).attrs.update(kept)
    return change

def attribute(path, name, value):
    def change(f):
        del f[path].attrs[name]
        f[path].attrs[name] = value
    return change

def fill(path, value):
    def change(f): f[path][...] = value
    return change

def delete(path):
    def change(f): del f[path]
    return change

def instead(path, put):
    def change(f):
        del f[path]
        put(f)
    return change

def heading(version):
    return lambda f: f.attrs.update(schema_name='tabmelt-result', schema_version=version,
                                    program_version='%d.9' % version)
file('foreign', 'HDF5, but not a tabmelt result', lambda f: f.create_group('something'), False)
file('newer', 'newer program (2.9)', heading(2), False)
file('older', 'older program (0.9)', heading(0), False)
file('no_steps', 'no frames', attribute('VTKHDF/Steps', 'NSteps', np.int64(0)))
file('no_edges', 'damaged', delete('mesh/r_edges'))
file('no_array', 'damaged', delete('VTKHDF/CellData/electric_potential'))
file('no_version', 'damaged', lambda f: f.attrs.pop('schema_version'))

many = np.ones(4000, dtype='i8')
wrong = 'is not of the type and shape'
file('version_list', wrong, attribute('/', 'schema_version', many))
file('version_text', wrong, attribute('/', 'schema_version', '1'))
file('complete_list', wrong, attribute('/', 'complete', many))
file('steps_list', wrong, attribute('VTKHDF/Steps', 'NSteps', many))
file('filled_list', wrong, attribute('VTKHDF/CellData/peak_temperature', 'filled', many))
file('title_list', wrong, attribute('/', 'title', np.array(['x' * 30] * 2000, dtype=object)))
file('title_fixed', wrong, attribute('/', 'title', np.bytes_(b'x' * 60)))
file('result_list', wrong, replace('results/nugget_diameter', np.ones(100000)))
file('result_text', wrong, replace('results/nugget_diameter', np.bytes_(b'abc')))
file('text_list', wrong, replace('texts/title', np.array(['a' * 50] * 5000, dtype=object), dtype=text))
file('text_fixed', wrong, replace('texts/title', np.bytes_(b'a' * 50)))
file('text_null', wrong, replace('texts/title', h5py.Empty(text)))
file('text_number', wrong, replace('texts/title', np.ones(3)))
file('names_table', wrong, replace('mesh/region_names', np.array([['a'] * 800] * 4, dtype=object), dtype=text))
file('names_fixed', wrong, replace('mesh/region_names', np.array([b'abcdefgh'] * 4, dtype='S8')))
file('regions_float', wrong, replace('VTKHDF/CellData/region_id', np.full(N, 1e30)))
file('rank_31', wrong, replace('VTKHDF/CellData/temperature', np.zeros((T * N,) + (1,) * 30, 'f4')))
file('rank_1', wrong, replace('VTKHDF/CellData/current_density', np.zeros(T * N, 'f4')))
file('two_columns', 'length', replace('VTKHDF/CellData/current_density', np.zeros((T * N, 2), 'f4')))
file('short_field', 'length', lambda f: f['VTKHDF/CellData/liquid_fraction'].resize(3 * N, axis=0))
file('few_times', 'NSteps', lambda f: f['VTKHDF/Steps/Values'].resize(2, axis=0))
file('steps_huge', 'NSteps', attribute('VTKHDF/Steps', 'NSteps', np.int64(2**62)))
file('steps_negative', 'NSteps', attribute('VTKHDF/Steps', 'NSteps', np.int64(-4)))
file('short_peak', 'fit', replace('VTKHDF/CellData/peak_temperature', np.zeros(3, 'f4')))
file('short_series', 'length', replace('series/current', np.zeros(2)))
file('times_fall', 'rise', fill('VTKHDF/Steps/Values', [3, 2, 1, 0]))
file('edges_fall', 'rise', fill('mesh/z_edges', np.arange(10.)[::-1]))
file('edges_same', 'rise', fill('mesh/r_edges', 0))

no_number = 'no number'
for name, value in (('nan', np.nan), ('infinite', np.inf), ('huge', 3e38)):
    file('times_' + name, no_number, fill('VTKHDF/Steps/Values', value))
    file('edges_' + name, no_number, fill('mesh/r_edges', value))
    file('peak_' + name, no_number, fill('VTKHDF/CellData/peak_temperature', value))
    file('field_' + name, no_number, fill('VTKHDF/CellData/current_density', value))

def unwritten(path, shape, dtype):
    return instead(path, lambda f: f.create_dataset(path, shape, dtype, chunks=(10**6,)))
file('series_of_32_GB', 'impossible size', unwritten('series/time', (4 * 10**9,), 'f8'))
file('series_of_2_to_the_61', 'impossible size', unwritten('series/time', (2**61 + 5,), 'f8'))
file('regions_of_10_GB', 'impossible size', unwritten('VTKHDF/CellData/region_id', (10**10,), 'u1'))
file('chunk_of_4_GB', 'impossible size', instead('series/time', lambda f: f.create_dataset(
    'series/time', (7,), 'f8', maxshape=(None,), chunks=(5 * 10**8,))))

elsewhere = 'leads elsewhere'
file('link_out', elsewhere, instead('series', lambda f: f.update({'series': h5py.ExternalLink(good, '/results')})))
file('soft_link', elsewhere, instead('results', lambda f: f.update({'results': h5py.SoftLink('/results')})))
file('dataset_link', elsewhere, instead('texts/case', lambda f: f.update(
    {'texts/case': h5py.ExternalLink(good, '/texts/case')})))
file('bytes_of_another_file', 'lies in another file', instead('series/time', lambda f: f.create_dataset(
    'series/time', (7,), 'f8', external=[('/etc/passwd', 0, 56)])))
def virtual(f):
    layout = h5py.VirtualLayout((7,), 'f8')
    layout[:] = h5py.VirtualSource(good, 'series/time', (7,))
    f.create_virtual_dataset('series/time', layout)
file('view_of_another_file', 'lies in another file', instead('series/time', virtual))
file('no_names', 'no name', lambda f: f['mesh'].pop('region_names'))
file('no_roles', 'no name', delete('mesh/region_roles'))
file('few_names', 'differ in number', replace('mesh/region_names', np.array(['a'], dtype=object), dtype=text))
file('region_255', 'no name', fill('VTKHDF/CellData/region_id', 255))

# Every attribute that is read: missing, of another class, a list, and where numbers are texts.
for path, name in (('/', 'schema_name'), ('/', 'schema_version'), ('/', 'program_version'), ('/', 'title'),
                   ('/', 'complete'), ('VTKHDF/Steps', 'NSteps'), ('VTKHDF/CellData/peak_liquid_fraction', 'filled')):
    key = (path + '_' + name).replace('/', '_')
    file('missing' + key, 'tabmelt', lambda f: f[path].attrs.pop(name))
    file('float' + key, wrong, attribute(path, name, 1.5))
    file('list' + key, wrong, attribute(path, name, many))
    file('table' + key, wrong, attribute(path, name, np.ones((3, 3))))
    file('empty' + key, wrong, attribute(path, name, h5py.Empty('f8')))

# Every dataset that must be there: missing, of another class, one value, one rank more, too short.
for path in ('mesh/r_edges', 'mesh/z_edges', 'VTKHDF/CellData/region_id', 'VTKHDF/Steps/Values',
             'VTKHDF/CellData/temperature', 'VTKHDF/CellData/liquid_fraction',
             'VTKHDF/CellData/electric_potential', 'VTKHDF/CellData/current_density'):
    key = path.replace('/', '_')
    file('missing_' + key, 'damaged', delete(path))
    file('texts_' + key, wrong, replace(path, np.array(['a'] * 4, dtype=object), dtype=text))
    file('single_' + key, wrong, replace(path, np.float64(1)))
    file('deep_' + key, wrong, replace(path, np.ones((2, 2, 2))))
    file('complex_' + key, wrong, replace(path, np.ones(3, dtype='c16')))
    file('short_' + key, 'damaged', lambda f: f.move(path, path + '_') or f.create_dataset(
        path, data=f[path + '_'][:1]))
    file('group_' + key, 'damaged', instead(path, lambda f: f.create_group(path)))

# Bytes at random; HDF5 may find nothing wrong with some of them.
whole = open(good, 'rb').read()
random = np.random.default_rng(1)
for n in range(20):
    spoilt = bytearray(whole)
    for at in random.integers(0, len(whole), 40): spoilt[at] = random.integers(256)
    open(folder + '/bytes_%d' % n, 'wb').write(spoilt)
    print('bytes_%d' % n, 'anything')
for n, size in enumerate((0, 1, 7, 8, 96, 512, 2048, 5000, len(whole) // 2, len(whole) - 1)):
    open(folder + '/cut_%d' % n, 'wb').write(whole[:size])
    print('cut_%d' % n, ':')
for n in range(5):
    open(folder + '/noise_%d' % n, 'wb').write(random.bytes(4000))
    print('noise_%d' % n, 'not HDF5')

file('unknown_filter', 'unknown way', replace('series/time', np.zeros(7), fletcher32=True))
)python";

TEST(Reader, refuses_every_malformed_file_with_name_and_reason) {
  const sample::Folder folder;
  const fs::path good = sample::write(folder / "good");
  const auto made = sample::run_python(script, good.string() + " " + folder.path().string());
  if (made.status == sample::module_missing) GTEST_SKIP() << "no h5py: " << made.output;
  ASSERT_EQ(made.status, 0) << made.output;
  std::istringstream list(made.output);
  std::string name, reason;
  int files = 0;
  while (list >> name && std::getline(list >> std::ws, reason)) {
    ++files;
    try {
      const StoredRun run = read_result_file(folder / name);
      for (std::size_t k = 0; k < run.frame_times.size(); ++k) run.frame(k);
      if (reason != "anything") ADD_FAILURE() << name << " was read";
    } catch (const ResultFileError& error) {
      const std::string told = error.what();
      EXPECT_EQ(told.rfind((folder / name).string(), 0), 0U) << told;
      if (reason != "anything") {
        EXPECT_NE(told.find(reason), std::string::npos) << told << " but not: " << reason;
      }
    }
  }
  EXPECT_EQ(files, 187);
}

// Two frames that do not unpack.
const char* const torn_script = R"python(
import sys
try:
    import h5py
except ImportError as missing:
    print(missing); sys.exit(77)
with h5py.File(sys.argv[1], 'r+') as f:
    for frame in (1, 3): f['VTKHDF/CellData/temperature'].id.write_direct_chunk((frame * 12 * 9,), b'torn')
)python";

TEST(Reader, reads_the_good_frames_of_a_file_with_torn_ones) {
  const sample::Folder folder;
  const fs::path file = sample::write(folder / "run");
  const auto made = sample::run_python(torn_script, file.string());
  if (made.status == sample::module_missing) GTEST_SKIP() << "no h5py: " << made.output;
  ASSERT_EQ(made.status, 0) << made.output;
  const StoredRun run = read_result_file(file);
  ASSERT_EQ(run.frame_times.size(), 4U);
  for (const std::size_t k : {0U, 2U}) EXPECT_NO_THROW(run.frame(k));
  for (const std::size_t k : {1U, 3U}) EXPECT_THROW(run.frame(k), ResultFileError);
}

TEST(Reader, cuts_a_title_no_picture_could_hold) {
  const sample::Folder folder;
  Case asked = sample::asked();
  asked.title = "x";
  for (int n = 0; n < 50000; ++n) asked.title += "µ";
  {
    ResultWriter writer(folder.path(), asked);
    writer.begins(sample::beginning());
    writer.frame_taken(sample::frame(0, sample::beginning().grid));
    writer.finish(sample::finished(), sample::verdict());
  }
  const std::string title = read_result_file(folder / "result.vtkhdf").title;
  EXPECT_EQ(title, asked.title.substr(0, 499) + "...") << "whole characters only";
}

TEST(Reader, keeps_to_the_file_it_opened) {
  const sample::Folder folder;
  const StoredRun run = read_result_file(sample::write(folder / "run"));
  fs::remove_all(folder / "run");
  EXPECT_EQ(run.frame(1).time, sample::frame(1, sample::beginning().grid).time);
}

}  // namespace
}  // namespace tabmelt
