// When the rounds of contacts, circuit and current field within one step have come to rest, and how
// much each new answer of the contacts counts.
//
// The change of a round is |R - R_before| / R of the load, largest of the spots. Rounds have
// settled when it is below the coupling tolerance. While some face is still held back in its growth
// (coupling/spot_contacts.h) what is missing is larger than the change: the change of a round in
// which a face gains 5 % is that of ln(F)/0.05 rounds for a face that is still to grow F times, so
// that 0.02 of the tolerance is asked for.
//
// New answers count fully in the first two rounds, then half. Where the load goes up and down, a
// face may jump between two states, each of which calls for the other; the weight then falls from
// turn to turn, and the face comes to rest between the two: it shares its time between them.
#pragma once

namespace tabmelt {

class Rounds {
 public:
  explicit Rounds(double tolerance) : tolerance_(tolerance) {}

  double weight() const { return weight_; }  // [1] of the answers of the next round
  // After a round: the load [ohm], its relative change, and whether a face is held back.
  void add(double load, double change, bool growing);
  bool settled() const { return settled_; }
  // Neither headway nor a smaller weight is left.
  bool stuck() const { return idle_ >= patience; }

 private:
  static constexpr int patience = 6;

  double tolerance_;
  int rounds_ = 0, idle_ = 0;
  double weight_ = 1, least_change_ = 1e300;
  double load_ = 0, step_ = 0;  // [ohm] of the last round, and what it added
  bool settled_ = false;
};

}  // namespace tabmelt
