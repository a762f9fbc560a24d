"""Navigation that knows no flight: units, angles, the earth, the air, radio and the records of the chart."""
