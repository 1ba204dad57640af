"""Every page of the demo club in a made-up language: what is not in it could not be said in any other language either."""
