module ridethrough.example/examples

go 1.25

require ridethrough.example v0.0.0

replace ridethrough.example => ../
