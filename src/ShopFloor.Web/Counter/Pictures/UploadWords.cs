namespace ShopFloor.Web.Counter.Pictures;

/// <summary>What a form without script says of a picture that was not taken: by code, so that nobody can put words into the page.</summary>
public static class UploadWords
{
    /// <summary>The sentence of a code, a key of the Counter's texts.</summary>
    public static string Of(string code) =>
        code switch
        {
            "picture-empty" => "The file is empty. Please choose the picture again.",
            "picture-too-large" => "The file is too large. Please save the picture smaller or choose another.",
            "picture-too-many-pixels" => "The picture has too many pixels. Please save it smaller.",
            "picture-animated" => "This is a moving picture. Please choose a still one.",
            "picture-broken" => "The picture is incomplete or damaged. Please choose the file again, or another copy of it.",
            "pictures-many" => "There are 20 pictures already: this is the most one order takes.",
            "upload-broken" => "The picture did not arrive whole. Please send it again.",
            _ => "This file was not taken. Please choose a JPEG, PNG, WebP or HEIC picture.",
        };
}
