"""The Compare screen: do the canvases agree with each other, and with the photo?"""
