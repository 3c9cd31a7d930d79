"""Body measurements that no drafting system asks for, and that a maker takes all the same.

A sleeve, a trouser leg or a cuff is judged by them. Lengths in mm.
"""

from trueup.geometry.drafting.base import BodyMeasurement

FURTHER = (
    BodyMeasurement("height", "height of the body, standing without shoes", 450, 2300),
    BodyMeasurement("upper-arm", "girth of the upper arm", 120, 600, standard="upper arm girth"),
    BodyMeasurement("elbow", "girth of the bent elbow", 120, 500, standard="elbow girth"),
    BodyMeasurement("wrist", "girth of the wrist", 90, 300, standard="wrist girth"),
    BodyMeasurement("thigh", "girth of the fullest thigh", 250, 1000, standard="thigh girth"),
    BodyMeasurement("knee", "girth of the knee", 180, 700, standard="knee girth"),
    BodyMeasurement("calf", "girth of the calf at its fullest", 150, 700, standard="calf girth"),
    BodyMeasurement("ankle", "girth of the ankle", 120, 400, standard="ankle girth"),
    BodyMeasurement(
        "outside-leg", "length from waist to floor at the side", 300, 1300, standard="outside leg"
    ),
    BodyMeasurement(
        "neck-to-bust",
        "length from neck point to bust point",
        150,
        450,
        standard="neck-shoulder point to breast point",
    ),
)
