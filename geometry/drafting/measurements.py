"""The body measurements that more than one system asks for."""

from trueup.geometry.drafting.base import BodyMeasurement

BUST = BodyMeasurement(
    "bust", "girth over the fullest part of the bust", 740, 1180, standard="bust girth"
)
WAIST = BodyMeasurement("waist", "girth of the natural waist", 480, 1250, standard="waist girth")
BACK_LENGTH = BodyMeasurement(
    "back-length",
    "length from nape to waist down the back",
    320,
    480,
    standard="cervical to waist (back)",
)
SLEEVE_LENGTH = BodyMeasurement(
    "sleeve-length", "length from shoulder point to wrist", 400, 700, standard="arm length"
)
HIP = BodyMeasurement(
    "hip", "girth over the fullest part of the hip", 740, 1500, standard="hip girth"
)
HIP_DEPTH = BodyMeasurement(
    "hip-depth", "length from waist to hip at the side", 140, 280, standard="waist to hips"
)
