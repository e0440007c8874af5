// The touching planes of one spot during one attempt of a step: what they conduct at a given
// force and current, from the last current field.
//
// A contact that softens grows, and as it grows it draws current from its neighbours or loses
// voltage. If all faces took at once the area that the last current field asks for, they would
// overshoot together, and what has grown does not shrink again. From round to round within a step
// the true area of a face therefore gains at most the share `growth`; rounds go on until what faces
// still have to grow no longer moves the load (coupling/rounds.h). So the contacts come to rest at
// the least areas that carry the load.
//
// The tip touches over the disc whose zone of metal yields under the force at the temperatures half
// a step ahead (contact/indentation.h); sheet and can touch over that disc and the load's spread
// through the sheet at 45 degrees.
#pragma once

#include <vector>

#include "solver/contact/indentation.h"
#include "solver/coupling/surfaces.h"
#include "solver/coupling/weld_model.h"

namespace tabmelt {

// What the planes of a spot remember from step to step.
struct ContactState {
  std::vector<std::vector<ContactMemory>> memory;  // per plane, per face
  std::vector<PlaneHeat> planes;  // thermal side of the touching planes during the last step
  double indentation = 0;         // [m] radius of the tip's face so far
  double tip_true_area = 0;       // [m^2] metal on metal there, so far
};

class SpotContacts {
 public:
  // Answers of one plane's faces, the share of each that touches [1], and how the column of the
  // edge shares in current and heat.
  struct Faces {
    std::vector<ContactAnswer> answer;
    std::vector<double> share;
    EdgeShare current, heat;
  };

  SpotContacts(const Problem&, const WeldModel&);

  ContactState initial_state() const;
  // The tip has left the strip: metal that touched has parted. What had grown together between
  // sheets stays so, and a film once broken stays broken.
  static void part(ContactState&);

  // The temperatures half a step ahead [K] hold for all rounds.
  void begin(const ContactState&, const Field& T_middle);
  // Answers at this force [N] and current [A]; `first`: no current field is known yet. `weight`
  // [1]: of the new conductances against those of the round before, as a geometric mean. Contacts
  // soften where the current goes and the current goes where they are soft: 1 lets the two chase
  // each other. A face for which each answer calls for the other of two states shares its time
  // between them; what it expels is the mean with the same weight.
  void answer(const Field& T_middle, const Field& k_axial, const Potential&, const Field& sigma,
              double current, double force, bool first, double weight);
  // As answer(), without current and with the tip clear of the strip.
  void answer_lifted(const Field& T_middle, const Field& k_axial, const Potential&,
                     const Field& sigma);
  // Thermal resistances and heat of the planes for the next round's surface temperatures, the areas
  // grown so far.
  void settle(const Field& k_axial, const Potential&, double square_current);
  // Moves memory and indentation of the last answers on.
  void keep(ContactState&) const;

  bool growing() const { return growing_; }  // some face was held back in the last round
  const std::vector<Faces>& faces() const { return faces_; }
  const std::vector<double>& radius() const { return radius_; }  // [m] touching now, per plane
  bool fixed() const { return fixed_; }                          // all are

 private:
  // The face over which the tip touches under this force [N], and what it spreads to.
  void touch(double force);
  void find_yielding_sides(const Field& T);
  void remember_tip(double& indentation, double& true_area) const;
  double covered(std::size_t plane, std::size_t column, double radius) const;
  ContactMoment moment_of(std::size_t plane, std::size_t column, const Surfaces&, double force,
                          bool first) const;
  void open_faces(std::size_t plane);
  void answer_by_face(std::size_t plane, const Surfaces&, const Potential&, const Field& sigma,
                      double current, double force, bool first);
  // The tip: one voltage, one temperature, one hardness.
  void answer_as_one_spot(const Surfaces&, const Field& sigma, double current, double force,
                          bool first);
  // The outermost column that touches as a whole, or the first. What it conducts rules the edge.
  std::size_t outermost_inside(std::size_t plane) const;
  void find_edges(std::size_t plane, const Field& sigma, const Field& k_axial);
  // The answer of a face, mixed with that of the round before.
  ContactAnswer mixed(std::size_t plane, std::size_t column, ContactAnswer) const;

  const Problem* problem_;
  const WeldModel* model_;
  std::vector<ContactModel> contacts_;
  // Of the round at hand.
  std::vector<std::vector<ContactMemory>> memory_;
  double indentation_ = 0;    // [m]
  double tip_true_area_ = 0;  // [m^2]
  std::vector<YieldingSide> yielding_;
  std::vector<PlaneHeat> planes_;
  bool growing_ = false;
  std::vector<Faces> faces_;
  std::vector<std::vector<ContactAnswer>> last_;  // per plane, of the round before
  double weight_ = 1;                             // [1] of the new answers
  std::vector<double> radius_;
  bool single_spot_ = false;  // the tip touches over one face that yields
  bool fixed_ = false;
};

}  // namespace tabmelt
